import { entryDraft, keepEntryDraft } from '../link/drafts'
import { writtenFor } from '../quantities'
import type { Typed } from '../typed'
import type { System } from '../words'

/** What stands in the fields of one card and is not kept yet: it outlives the card, the page and the browser. */
export class Entry {
  texts = $state<Record<string, string>>({})
  systems = $state<Record<string, System>>({}) // of fields that are read in another unit than the page
  readonly restored: boolean
  readonly #file: string
  readonly #card: string

  constructor(file: string, card: string) {
    this.#file = file
    this.#card = card
    this.texts = { ...entryDraft(file, card) }
    this.restored = Object.keys(this.texts).length > 0
  }

  text(key: string): string {
    return this.texts[key] ?? ''
  }

  set(key: string, text: string): void {
    this.texts[key] = text
    keepEntryDraft(this.#file, this.#card, $state.snapshot(this.texts))
  }

  clear(...keys: readonly string[]): void {
    for (const key of keys.length > 0 ? keys : Object.keys(this.texts)) this.set(key, '')
  }

  has(...keys: readonly string[]): boolean {
    return keys.every((key) => this.text(key).trim() !== '')
  }

  /** What is written for a field: a bare number in the file's unit, else with the unit that it was typed in. */
  value(key: string, kind: string, system: System): Typed {
    return writtenFor(this.text(key), kind, this.systems[key] ?? system, undefined)
  }
}
