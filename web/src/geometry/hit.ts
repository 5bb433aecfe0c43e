// What lies under a finger: the nearest handle first, then a wheel, then a line.
import type { Drawing } from '../wire'
import { originalOf, spinDir, type Table } from './parts'
import type { Flat, Place } from './space'
import { flatten, onSheet, type Sheet, type View } from './view'
import { tyreOutline } from './shapes'

export interface Part {
  readonly table: Table
  readonly name: string
}

/** Half of the reach of a handle, px: 44 px across for a finger. */
export const REACH = 22

export interface Scene {
  readonly drawing: Drawing
  readonly places: ReadonlyMap<string, Place>
  readonly view: View
  readonly sheet: Sheet
}

const screen = (scene: Scene, place: Place): Flat => {
  const [x, y] = onSheet(scene.sheet, flatten(scene.view, place))
  return [x, y]
}

function toSegment(at: Flat, from: Flat, to: Flat): number {
  const [du, dv] = [to[0] - from[0], to[1] - from[1]]
  const long2 = du * du + dv * dv
  const part = long2 > 0 ? Math.min(1, Math.max(0, ((at[0] - from[0]) * du + (at[1] - from[1]) * dv) / long2)) : 0
  return Math.hypot(at[0] - from[0] - part * du, at[1] - from[1] - part * dv)
}

export function inside(at: Flat, outline: readonly Flat[]): boolean {
  let within = false
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a
    if (a[1] > at[1] !== b[1] > at[1] && at[0] < ((b[0] - a[0]) * (at[1] - a[1])) / (b[1] - a[1]) + a[0]) within = !within
  })
  return within
}

/** The handle nearest to a place on the sheet, within reach; an original before its twin. */
export function pointUnder(scene: Scene, at: Flat): string | null {
  let [best, nearest] = [null as string | null, REACH]
  for (const [name, place] of scene.places) {
    const [x, y] = screen(scene, place)
    const far = Math.hypot(at[0] - x, at[1] - y) + (scene.drawing.points[name]?.twin_of ? 0.5 : 0)
    if (far < nearest) [best, nearest] = [name, far]
  }
  return best
}

export function wheelUnder(scene: Scene, at: Flat): string | null {
  for (const [name, wheel] of Object.entries(scene.drawing.wheels)) {
    const centre = scene.places.get(wheel.centre)
    if (!centre) continue
    const axis = spinDir(scene.drawing, name, scene.places)
    const outline = tyreOutline(scene.view, centre, axis, wheel.radius_mm).map((flat): Flat => {
      const [x, y] = onSheet(scene.sheet, flat)
      return [x, y]
    })
    if (inside(at, outline)) return name
  }
  return null
}

const LINES = ['bars', 'springs', 'straps'] as const

export function lineUnder(scene: Scene, at: Flat): Part | null {
  let [best, nearest] = [null as Part | null, REACH]
  for (const table of LINES) {
    for (const [name, part] of Object.entries(scene.drawing[table])) {
      const [from, to] = [scene.places.get(part.ends?.[0] ?? ''), scene.places.get(part.ends?.[1] ?? '')]
      if (!from || !to) continue
      const far = toSegment(at, screen(scene, from), screen(scene, to))
      if (far < nearest) [best, nearest] = [{ table, name: originalOf(scene.drawing, table, name) }, far]
    }
  }
  return best
}
