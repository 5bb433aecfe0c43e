// A hand on the drawing: takes a point, a wheel or the sheet, and moves it.
import { lineUnder, pointUnder, wheelUnder, type Scene } from '../geometry/hit'
import { originalOf } from '../geometry/parts'
import { minus, plus, type Flat, type Place } from '../geometry/space'
import { flatten, movedInView, offSheet, upDir, type View } from '../geometry/view'
import { px } from '../geometry/units'
import { movePoint, tableOf } from '../ops'
import type { Shop } from '../shop.svelte'

/** Below this the hand only chose, px. */
const STILL = 4
/** In a view this close to straight from above a wheel's travel cannot be seen. */
const FLAT_VIEW = 0.2
/** A turn of the vehicle by one pixel, rad. */
const TURN = 0.008

export interface Stage {
  readonly shop: Shop
  readonly scene: () => Scene
  readonly turned: () => boolean
  readonly look: (view: View) => void
  readonly pan: (step: Flat) => void
}

type Move = (at: Flat, from: Flat) => void
interface Grip {
  readonly move: Move
  readonly drop: (moved: boolean) => void
}

const NOTHING: Grip = { move: () => undefined, drop: () => undefined }

/** Keeps a point's move, from where the point is when it is this edit's turn. */
export const carry = (shop: Shop, name: string, by: Place): Promise<boolean> =>
  shop.edit(() => {
    const at = shop.kept?.drawing.points[name]?.at
    return shop.kept && at ? [movePoint(shop.kept.drawing, shop.values, shop.plane, name, plus(at, by))] : []
  })

function takePoint(stage: Stage, name: string): Grip {
  const { shop } = stage
  const { drawing } = stage.scene()
  const chosen = name in tableOf(shop.values, 'points') ? name : originalOf(drawing, 'points', name)
  let by: Place | null = null
  let start: Place | null = null
  return {
    move: (at, from) => {
      if (!shop.kept) return
      if (!start && shop.moves(name)) shop.toSetUp()
      start ??= shop.kept.drawing.points[name]?.at ?? null
      if (!start) return
      const { sheet, view } = stage.scene()
      const step: Flat = [(at[0] - from[0]) / sheet.pxPerMm, (from[1] - at[1]) / sheet.pxPerMm]
      const place = movedInView(view, start, step)
      shop.inHand = { name, place }
      by = minus(place, start)
      shop.try([movePoint(shop.kept.drawing, shop.values, shop.plane, name, place)])
    },
    drop: (moved) => {
      shop.held = { table: 'points', name: chosen }
      if (moved && by) void carry(shop, name, by)
    },
  }
}

/** +1 where a wheel's travel grows with the sweep's, -1 where it falls (the other side in roll). */
export function wayOf(shop: Shop, wheel: string): number {
  const travel = shop.sweep?.assemblies.find(({ wheels }) => wheels.includes(wheel))?.travel_mm[wheel] ?? []
  return (travel[travel.length - 1] ?? 1) >= (travel[0] ?? 0) ? 1 : -1
}

function takeWheel(stage: Stage, wheel: string): Grip {
  const { shop } = stage
  shop.watched = wheel
  if (shop.mode.startsWith('wheel:') && shop.modes.includes(`wheel:${wheel}`)) shop.setMode(`wheel:${wheel}`)
  const way = wayOf(shop, wheel)
  const before = shop.drive
  return {
    move: (at, from) => {
      const { sheet, view } = stage.scene()
      const up = upDir(view)[2]
      if (up > FLAT_VIEW) shop.moveTo(before + (way * (from[1] - at[1])) / (sheet.pxPerMm * up))
    },
    drop: (moved) => {
      if (!moved) shop.held = { table: 'wheels', name: originalOf(stage.scene().drawing, 'wheels', wheel) }
    },
  }
}

function takeSheet(stage: Stage): Grip {
  const before = stage.scene().view
  let last: Flat | null = null
  return {
    move: (at, from) => {
      const [right, down] = [at[0] - from[0], at[1] - from[1]]
      if (stage.turned()) {
        const pitch = Math.min(Math.PI / 2, Math.max(-0.3, before.pitch + down * TURN))
        stage.look({ yaw: before.yaw - right * TURN, pitch })
        return
      }
      const { pxPerMm } = stage.scene().sheet
      const step: Flat = [at[0] - (last ?? from)[0], at[1] - (last ?? from)[1]]
      last = at
      stage.pan([step[0] / pxPerMm, -step[1] / pxPerMm])
    },
    drop: (moved) => {
      if (!moved) stage.shop.held = null
    },
  }
}

function grip(stage: Stage, at: Flat): Grip {
  const scene = stage.scene()
  const point = pointUnder(scene, at)
  if (point) return takePoint(stage, point)
  const line = lineUnder(scene, at)
  const wheel = wheelUnder(scene, at)
  if (wheel && !line) return takeWheel(stage, wheel)
  if (line) return { ...NOTHING, drop: () => (stage.shop.held = line) }
  return takeSheet(stage)
}

/** Follows one pointer from press to release. */
export class Hand {
  #from: Flat | null = null
  #grip = NOTHING
  #moved = false
  readonly #stage: Stage

  constructor(stage: Stage) {
    this.#stage = stage
  }

  press(at: Flat): void {
    this.#stage.shop.putBack()
    this.#from = at
    this.#moved = false
    this.#grip = grip(this.#stage, at)
  }

  move(at: Flat): void {
    if (!this.#from) return
    this.#moved ||= Math.hypot(at[0] - this.#from[0], at[1] - this.#from[1]) > STILL
    if (this.#moved) this.#grip.move(at, this.#from)
  }

  release(): void {
    if (this.#from) this.#grip.drop(this.#moved)
    this.#from = null
  }

  cancel(): void {
    this.#from = null
    this.#stage.shop.putBack()
  }
}

export const flatUnder = (scene: Scene, at: Flat): Flat => offSheet(scene.sheet, px(at[0]), px(at[1]))
export const flatOf = (scene: Scene, place: Place): Flat => flatten(scene.view, place)
