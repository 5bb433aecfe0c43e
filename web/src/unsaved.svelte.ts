import { dropTextDraft, keepTextDraft, sayWhen, textDraft, type TextDraft } from './link/drafts'
import { Entry } from './measure/entry.svelte'
import type { Shop } from './shop.svelte'

/** What is not saved, or not even kept, and outlives a closed browser. */
export class Unsaved {
  older = $state.raw<TextDraft | null>(null) // work of before that began from another state of the file
  #found: TextDraft | null = null
  #file = ''
  readonly #entries: Record<string, Entry> = {}

  find(file: string): void {
    this.#file = file
    this.#found = textDraft(file)
  }

  /** Puts work of before back over the file that it began from, never over a newer one. */
  async takeUp(shop: Shop): Promise<void> {
    const draft = this.#found
    this.#found = null
    if (!draft || draft.text === shop.text) return
    if (draft.revision !== shop.revision) {
      this.older = draft
      shop.told = `The file is newer than what was left here unsaved on ${sayWhen(draft.at)}. It is shown as it is on the disk.`
    } else if (await shop.replace(draft.text)) {
      shop.told = `What was not saved in ${this.#file} on ${sayWhen(draft.at)} is back. Undo shows the file as it is on the disk.`
      shop.view = 'job'
    }
  }

  /** Shows what was left unsaved; the newer file is one undo away. */
  async show(shop: Shop): Promise<void> {
    const draft = this.older
    if (!draft || !(await shop.replace(draft.text))) return
    this.older = null
    shop.told = ''
    shop.view = 'job'
  }

  /** What is saved needs no draft; one that waits to be shown is not written over. */
  keep(file: string, draft: TextDraft, saved: boolean): void {
    if (this.older || this.#found) return
    if (saved) dropTextDraft(file)
    else keepTextDraft(file, draft)
  }

  /** What stands in the fields of a card. */
  entry(card: string): Entry {
    return (this.#entries[card] ??= new Entry(this.#file, card))
  }
}
