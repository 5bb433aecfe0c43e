// A point moved by arrow keys: shown at once, kept when the keys rest.
import { movedInView, type View } from '../geometry/view'
import { minus, plus, type Flat, type Place } from '../geometry/space'
import { movePoint } from '../ops'
import type { Shop } from '../shop.svelte'
import { carry } from './hand'

/** Steps of the keys, mm: as fine as a tape, and ten times that with Shift. */
const STEP = 1
const STRIDE = 10
/** After so long without a key the move is kept as one step of undo, ms. */
const REST = 600

const KEYS: Readonly<Record<string, Flat>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }

export class Nudge {
  #timer = 0
  #moved: { readonly name: string; readonly by: Place } | null = null // since the last that was kept
  readonly #shop: Shop

  constructor(shop: Shop) {
    this.#shop = shop
  }

  /** True when the key was one of the nudge's. */
  press(name: string, view: View, key: string, far: boolean): boolean {
    const way = KEYS[key]
    const shop = this.#shop
    if (key === 'Escape') this.#moved = null
    if (this.#moved?.name !== name) this.keep()
    const from = shop.kept?.drawing.points[name]?.at
    if (!way || !from || !shop.kept) return false
    if (shop.moves(name)) shop.toSetUp()
    const step = far ? STRIDE : STEP
    const place = movedInView(view, plus(from, this.#moved?.by ?? [0, 0, 0]), [way[0] * step, way[1] * step])
    this.#moved = { name, by: minus(place, from) }
    shop.inHand = { name, place }
    shop.try([movePoint(shop.kept.drawing, shop.values, shop.plane, name, place)])
    window.clearTimeout(this.#timer)
    this.#timer = window.setTimeout(() => this.keep(), REST)
    return true
  }

  keep(): void {
    window.clearTimeout(this.#timer)
    const moved = this.#moved
    this.#moved = null
    if (moved) void carry(this.#shop, moved.name, moved.by)
  }
}
