// What is picked in a photograph: a draft until its rectangle is whole, the file's own table from then on.
import { readPhotos, removePhoto, sendPhoto, Refused } from '../link/http'
import { recall, remember } from '../link/memory'
import { namesIn, tableOf, written, type Op } from '../ops'
import type { Shop } from '../shop.svelte'
import { asTyped, isTable, shown, type Typed } from '../typed'
import type { SaidPhoto } from '../wire'
import { allAt, asAt, inside, stepped, type At } from './marks'

export type Target = { readonly corner: number } | { readonly point: string }
export type Length = 'wide' | 'high' | 'depth' | 'camera'

interface Draft {
  readonly picture: string
  readonly size: At
  readonly corners: readonly At[]
  readonly lengths: Readonly<Record<Length, string>>
}

/** px: one standard deviation of a pick with the loupe; common practice. */
const PICK_ERROR = 2
/** After so long without a key the move is kept as one step of undo, ms. */
const REST = 600
const NO_LENGTHS: Draft['lengths'] = { wide: '', high: '', depth: '', camera: '' }

export class Photographs {
  name = $state<string>('side')
  target = $state.raw<Target>({ corner: 0 })
  moving = $state.raw<At | null>(null) // of the target, under a finger or the keys
  busy = $state(false)
  sentence = $state('')
  draft = $state.raw<Draft | null>(null)
  said = $state.raw<Readonly<Record<string, SaidPhoto>>>({})
  #timer = 0
  #asked = ''
  readonly #shop: Shop

  constructor(shop: Shop) {
    this.#shop = shop
  }

  /** Photographs of the file, and the views that a vehicle has. */
  readonly names = $derived.by(() => {
    const views = this.#flat ? [this.#flat] : ['side', 'front']
    return [...views, ...Object.keys(tableOf(this.#shop.values, 'photos')).filter((name) => !views.includes(name))]
  })
  readonly entry = $derived.by(() => {
    const table = tableOf(this.#shop.values, 'photos')[this.name]
    return isTable(table) ? table : null
  })
  readonly view = $derived.by(() => (this.entry?.['view'] === 'front' || (!this.entry && this.name === 'front') ? 'front' : 'side'))
  readonly picture = $derived.by(() => (this.entry ? shown(this.entry['picture']) : (this.draft?.picture ?? '')))
  readonly size = $derived.by<At | null>(() => (this.entry ? asAt(this.entry['size']) : (this.draft?.size ?? null)))
  readonly corners = $derived.by<readonly At[]>(() => (this.entry ? allAt(this.entry['corners']) : (this.draft?.corners ?? [])))
  readonly picks = $derived.by(() => Object.entries(isTable(this.entry?.['picks']) ? this.entry['picks'] : {}).flatMap(([name, at]) => {
    const place = asAt(at)
    return place ? [{ name, at: place }] : []
  }))
  readonly points = $derived.by(() => namesIn(this.#shop.values, this.#shop.drawing, 'points'))
  readonly reading = $derived.by(() => this.said[this.name] ?? null)
  readonly place = $derived.by(() => this.moving ?? this.placeOf(this.target))

  get #flat(): 'side' | 'front' | null {
    return this.#shop.plane === 'yz' ? 'front' : this.#shop.plane === 'xz' ? 'side' : null
  }

  get #drawer(): string {
    return `photo ${this.#shop.kept?.name ?? ''} ${this.name}`
  }

  placeOf(target: Target): At | null {
    if ('corner' in target) return this.corners[target.corner] ?? null
    return this.picks.find(({ name }) => name === target.point)?.at ?? null
  }

  /** Shows a view, with what was drafted of it when the browser was closed. */
  show(name: string): void {
    this.keep()
    this.name = name
    this.sentence = ''
    this.draft = this.#recalled()
    this.target = { corner: Math.min(this.corners.length, 3) }
  }

  #recalled(): Draft | null {
    try {
      const kept = JSON.parse(recall(this.#drawer) ?? 'null') as Partial<Draft> | null
      const size = asAt(kept?.size)
      if (!kept || !size || typeof kept.picture !== 'string' || !/^[a-z]+-[0-9a-f]{8}\.jpg$/.test(kept.picture)) return null
      return { picture: kept.picture, size, corners: allAt(kept.corners).slice(0, 4), lengths: { ...NO_LENGTHS, ...kept.lengths } }
    } catch {
      return null
    }
  }

  #drafted(draft: Draft | null): void {
    this.draft = draft
    remember(this.#drawer, JSON.stringify(draft))
  }

  lengthOf(length: Length): string {
    if (!this.entry) return this.draft?.lengths[length] ?? ''
    const rectangle = this.entry['rectangle']
    if (length === 'wide' || length === 'high') return Array.isArray(rectangle) ? shown(rectangle[length === 'wide' ? 0 : 1]) : ''
    return shown(this.entry[length])
  }

  async #carried<Answer>(ask: () => Promise<Answer>): Promise<Answer | null> {
    this.busy = true
    this.sentence = ''
    try {
      return await ask()
    } catch (refused) {
      if (!(refused instanceof Refused)) throw refused
      this.sentence = refused.message
      return null
    } finally {
      this.busy = false
    }
  }

  /** A photograph taken in; what was picked in the one before it is one undo away. */
  async take(file: File): Promise<void> {
    const stored = await this.#carried(() => sendPhoto(this.view, file))
    if (!stored) return
    const lengths = Object.fromEntries((['wide', 'high', 'depth', 'camera'] as const).map((key) => [key, this.lengthOf(key)])) as Draft['lengths']
    const name = this.name
    if (this.entry) await this.#shop.edit(() => [{ op: 'delete', key: ['photos', name] }])
    this.#drafted({ picture: stored.picture, size: [stored.width, stored.height], corners: [], lengths })
    this.target = { corner: 0 }
  }

  async remove(): Promise<void> {
    const { picture, name } = this
    if ((await this.#carried(async () => { await removePhoto(picture); return true })) === null && !this.sentence.includes('not there')) return
    if (this.entry) await this.#shop.edit(() => [{ op: 'delete', key: ['photos', name] }])
    this.#drafted(null)
    this.target = { corner: 0 }
  }

  choose(target: Target): void {
    this.keep()
    this.target = target
  }

  /** An arrow key or button; kept when the keys rest. */
  press(key: string, step: number): boolean {
    const { size } = this
    const from = this.place ?? (size ? inside(size, [size[0] / 2, size[1] / 2]) : null)
    const to = size && from ? stepped(size, from, key, step) : null
    if (!to) return false
    this.moving = to
    window.clearTimeout(this.#timer)
    this.#timer = window.setTimeout(() => this.keep(), REST)
    return true
  }

  /** What was moved goes where it was left. */
  keep(): void {
    window.clearTimeout(this.#timer)
    const at = this.moving
    if (!at) return
    const { target } = this
    void ('corner' in target ? this.#corner(target.corner, at) : this.#pick(target.point, at)).finally(() => {
      if (this.moving === at) this.moving = null
    })
  }

  async #corner(index: number, at: At): Promise<void> {
    const corners = [...this.corners]
    corners[Math.min(index, corners.length)] = at
    if (this.entry) await this.#set(['corners'], corners)
    else if (this.draft) {
      const fresh = index >= this.draft.corners.length
      this.#drafted({ ...this.draft, corners })
      if (fresh && corners.length < 4) this.target = { corner: corners.length }
      await this.#whole()
    }
  }

  async #pick(point: string, at: At): Promise<void> {
    await this.#set(this.picks.length > 0 ? ['picks', point] : ['picks'], this.picks.length > 0 ? at : { [point]: at })
  }

  async #set(key: readonly string[], value: Typed): Promise<void> {
    const { name } = this
    await this.#shop.edit(() => [{ op: 'set', key: ['photos', name, ...key], value }])
  }

  async setLength(length: Length, text: string): Promise<void> {
    if (!this.entry) {
      if (this.draft) this.#drafted({ ...this.draft, lengths: { ...this.draft.lengths, [length]: text } })
      await this.#whole()
    } else if (length === 'wide' || length === 'high') {
      const both = (['wide', 'high'] as const).map((key) => asTyped(key === length ? text : this.lengthOf(key)))
      await this.#set(['rectangle'], both)
    } else if (text) await this.#set([length], asTyped(text))
    else if (length === 'camera') await this.#shop.edit(() => [{ op: 'delete', key: ['photos', this.name, 'camera'] }])
  }

  /** With four corners and its lengths the photograph goes into the file. */
  async #whole(): Promise<void> {
    const { draft, name, view } = this
    const depth = this.#flat ? '0' : (draft?.lengths.depth ?? '')
    if (draft?.corners.length !== 4 || !draft.lengths.wide || !draft.lengths.high || !depth) return
    const { picture, corners, size, lengths } = draft
    const value: Typed = {
      picture, view, depth: asTyped(depth), corners: [...corners], rectangle: [asTyped(lengths.wide), asTyped(lengths.high)],
      size, error: PICK_ERROR, ...(lengths.camera && { camera: asTyped(lengths.camera) }),
    }
    if (!(await this.#shop.edit(() => [{ op: 'add', key: ['photos', name], value }]))) return
    this.#drafted(null)
    this.target = { point: '' }
  }

  async unpick(point: string): Promise<void> {
    const { name } = this
    const key = this.picks.length > 1 ? ['photos', name, 'picks', point] : ['photos', name, 'picks']
    await this.#shop.edit(() => [{ op: 'delete', key }])
  }

  /** Takes back what was picked last. */
  async undo(): Promise<void> {
    this.moving = null
    if (this.entry || !this.draft) return this.#shop.undo()
    const corners = this.draft.corners.slice(0, -1)
    this.#drafted({ ...this.draft, corners })
    this.target = { corner: corners.length }
  }

  /** Can this point's place come from here? A twin that is not written follows its original. */
  ownPlace(point: string): boolean {
    return point in tableOf(this.#shop.values, 'points')
  }

  /** A point that was not measured takes its first place from the photograph, or keeps it as measured. */
  async placeBy(point: string, photograph: boolean): Promise<void> {
    const rough = this.reading?.rough[point]
    if (!rough) return
    await this.#shop.edit(() => {
      const before = tableOf(this.#shop.values, 'points')[point]
      const alone = isTable(before) && before['alone'] === true ? { alone: true } : {}
      const at = written(this.#shop.values, point) ?? rough
      const value: Typed = photograph ? { sketch: rough, ...alone } : { at: at as Typed[], ...alone }
      return [{ op: 'set', key: ['points', point], value } satisfies Op]
    })
  }

  /** Asks what the photographs of this text say. */
  async read(text: string): Promise<void> {
    this.#asked = text
    try {
      const { photos } = await readPhotos(text)
      if (this.#asked === text) this.said = photos
    } catch (refused) {
      if (!(refused instanceof Refused)) throw refused
      this.sentence = refused.message
    }
  }
}
