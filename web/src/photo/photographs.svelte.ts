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

/** A second rectangle until it is whole. */
interface Second {
  readonly corners: readonly At[]
  readonly lengths: readonly [string, string]
}

/** px: one standard deviation of a pick with the loupe; common practice. A screen that shows few of the picture's
 * pixels makes it worse: a tap falls on whole pixels of the screen, off by 0.29 of one, and a hand does a little worse. */
const PICK_ERROR = 2
const OF_THE_SCREEN = 0.4
/** After so long without a key the move is kept as one step of undo, ms. */
const REST = 600
const NO_SECOND: Second = { corners: [], lengths: ['', ''] }
const NO_LENGTHS: Draft['lengths'] = { wide: '', high: '', depth: '', camera: '' }

export class Photographs {
  name = $state<string>('side')
  target = $state.raw<Target>({ corner: 0 })
  moving = $state.raw<At | null>(null) // of the target, under a finger or the keys
  busy = $state(false)
  sentence = $state('')
  draft = $state.raw<Draft | null>(null)
  extra = $state.raw<Second>(NO_SECOND)
  said = $state.raw<Readonly<Record<string, SaidPhoto>>>({})
  coarse = 1 // pixels of the picture to one of the screen, where it was tapped last
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
  readonly second = $derived.by<readonly At[]>(() => (this.entry?.['second_corners'] ? allAt(this.entry['second_corners']) : this.extra.corners))
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
    if ('corner' in target) return [...this.corners.slice(0, 4), ...(target.corner > 3 ? this.second : [])][target.corner] ?? null
    return this.picks.find(({ name }) => name === target.point)?.at ?? null
  }

  /** Shows a view, with what was drafted of it when the browser was closed. */
  show(name: string): void {
    this.keep()
    this.name = name
    this.sentence = ''
    this.draft = this.#recalled()
    this.extra = NO_SECOND
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

  /** The picture drawn along under the loupe's cross, by so many of its pixels. */
  draw(by: At): void {
    const { size, place } = this
    if (size && place) this.moving = inside(size, [place[0] - by[0], place[1] - by[1]])
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
    if (index > 3) return this.#secondCorner(index - 4, at)
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

  async #secondCorner(index: number, at: At): Promise<void> {
    const corners = [...this.second]
    const fresh = index >= corners.length
    corners[Math.min(index, corners.length)] = at
    if (this.entry?.['second_corners']) return this.#set(['second_corners'], corners)
    this.extra = { ...this.extra, corners }
    if (fresh && corners.length < 4) this.target = { corner: 4 + corners.length }
    await this.#secondWhole()
  }

  secondLength(side: 0 | 1): string {
    const rectangle = this.entry?.['second_rectangle']
    return Array.isArray(rectangle) ? shown(rectangle[side]) : this.extra.lengths[side]
  }

  async setSecondLength(side: 0 | 1, text: string): Promise<void> {
    const lengths: Second['lengths'] = side === 0 ? [text, this.secondLength(1)] : [this.secondLength(0), text]
    if (this.entry?.['second_rectangle']) return this.#set(['second_rectangle'], lengths.map(asTyped))
    this.extra = { ...this.extra, lengths }
    await this.#secondWhole()
  }

  async #secondWhole(): Promise<void> {
    const { name, extra: { corners, lengths } } = this
    if (corners.length !== 4 || !lengths[0] || !lengths[1]) return
    const keys = { second_corners: [...corners], second_rectangle: lengths.map(asTyped) }
    const set = Object.entries(keys).map(([key, value]): Op => ({ op: 'set', key: ['photos', name, key], value }))
    if (await this.#shop.edit(() => set)) this.extra = NO_SECOND
  }

  async removeSecond(): Promise<void> {
    const { name, entry } = this
    this.extra = NO_SECOND
    this.target = { point: '' }
    const there = ['second_corners', 'second_rectangle'].filter((key) => entry?.[key] !== undefined)
    await this.#shop.edit(() => there.map((key) => ({ op: 'delete', key: ['photos', name, key] })))
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
      size, error: Math.max(PICK_ERROR, Math.round(OF_THE_SCREEN * this.coarse)), ...(lengths.camera && { camera: asTyped(lengths.camera) }),
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
    if ('corner' in this.target && this.target.corner > 3 && this.extra.corners.length > 0) {
      this.extra = { ...this.extra, corners: this.extra.corners.slice(0, -1) }
      this.target = { corner: 4 + this.extra.corners.length }
      return
    }
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
