// Work that is not kept yet, so that a closed browser loses nothing: the text that is not saved, and what stands in
// the cards' fields. By file name, in this browser only; the file on the disk is never written from here.
import { forget, recall, remember } from './memory'

export interface TextDraft {
  readonly text: string
  readonly revision: string // of the file that it began from
  readonly at: number // ms since 1970
}

const textKey = (file: string): string => `draft ${file}`
const entryKey = (file: string, card: string): string => `entry ${file} ${card}`

const parsed = (key: string): unknown => {
  try {
    return JSON.parse(recall(key) ?? 'null') as unknown
  } catch {
    return null
  }
}

const isDraft = (found: unknown): found is TextDraft => {
  const draft = found as Partial<TextDraft> | null
  return typeof draft?.text === 'string' && typeof draft.revision === 'string' && typeof draft.at === 'number'
}

export function textDraft(file: string): TextDraft | null {
  const found = parsed(textKey(file))
  return isDraft(found) ? found : null
}

export const keepTextDraft = (file: string, draft: TextDraft): void => remember(textKey(file), JSON.stringify(draft))
export const dropTextDraft = (file: string): void => forget(textKey(file))

/** What stood in the fields of a card, by field. */
export function entryDraft(file: string, card: string): Readonly<Record<string, string>> {
  const found = parsed(entryKey(file, card))
  if (typeof found !== 'object' || found === null) return {}
  return Object.fromEntries(Object.entries(found).filter((pair): pair is [string, string] => typeof pair[1] === 'string'))
}

export function keepEntryDraft(file: string, card: string, texts: Readonly<Record<string, string>>): void {
  const filled = Object.entries(texts).filter(([, text]) => text !== '')
  if (filled.length > 0) remember(entryKey(file, card), JSON.stringify(Object.fromEntries(filled)))
  else forget(entryKey(file, card))
}

/** When it was, as a person says it. */
export const sayWhen = (at: number): string => new Date(at).toLocaleString([], { weekday: 'long', hour: '2-digit', minute: '2-digit' })
