// What a person types goes to the program as typed; only a plain decimal number goes as a number.
export type Typed = string | number | boolean | null | readonly Typed[] | { readonly [key: string]: Typed }

export const PLAIN = /^[+-]?(\d{1,12})(\.\d{1,12})?$/

export const asTyped = (text: string): string | number => {
  const trimmed = text.trim()
  return PLAIN.test(trimmed) ? Number(trimmed) : trimmed
}

/** A value of the file as the field shows it. */
export function shown(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') return String(value)
  return JSON.stringify(value)
}

export const isTable = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** Coordinates that are dragged are kept to this step, mm: finer than a tape, coarser than noise. */
const DRAG_STEP = 0.5

export const toStep = (value: number): number => Math.round(value / DRAG_STEP) * DRAG_STEP
