// What the big keys do to a text: digits, one point, fractions after a whole number, and back.

/** The field that the big keys fill. */
export interface Keys {
  readonly label: string
  readonly field: HTMLElement
  readonly text: () => string
  readonly set: (text: string) => void
  readonly unit: () => string | null
  readonly other: () => string | null
  readonly flip: () => void
  readonly inch: () => boolean // fractions are wanted
  readonly done: () => void
}

export const DIGITS = ['7', '8', '9', '4', '5', '6', '1', '2', '3'] as const
export const FRACTIONS = ['1/2', '1/4', '1/8', '1/16', '1/32'] as const
/** A glove that trembles presses twice: the same key sooner than this is one press, ms. */
export const BOUNCE = 70
const LONGEST = 24

const whole = (text: string): boolean => /^\d+$/.test(text)

/** Sum of two fractions of an inch tape in lowest terms: 1/2 and 1/4 is 3/4; null where it would be an inch or more. */
function plus(a: string, b: string): string | null {
  const [[over1 = 0, under1 = 1], [over2 = 0, under2 = 1]] = [a.split('/').map(Number), b.split('/').map(Number)]
  const marks = (over1 * 32) / under1 + (over2 * 32) / under2
  if (marks >= 32) return null
  let [part, of] = [marks, 32]
  while (part % 2 === 0) [part, of] = [part / 2, of / 2]
  return `${part}/${of}`
}

/** The text after a key; the same text where the key makes no sense there. */
export function pressed(text: string, key: string): string {
  if (text.startsWith('-')) return `-${pressed(text.slice(1), key)}`
  if (text.length >= LONGEST) return text
  if (key === '.') return /[./]/.test(text) ? text : `${text || '0'}.`
  if (!key.includes('/')) return text.includes('/') ? text : `${text === '0' ? '' : text}${key}`
  if (text === '' || text === '0') return key
  if (whole(text)) return `${text} ${key}`
  const found = /^(?:(\d+) )?(\d+\/\d+)$/.exec(text)
  const sum = found?.[2] ? plus(found[2], key) : null
  return sum ? `${found?.[1] ? `${found[1]} ` : ''}${sum}` : text
}

export const taken = (text: string): string => (/ \d+\/\d+$/.test(text) ? text.replace(/ \d+\/\d+$/, '') : /^\d+\/\d+$/.test(text) ? '' : text.slice(0, -1))
