import type { System } from './words'

// What a person types goes to the program as typed; only a plain decimal number goes as a number.
export type Typed = string | number | boolean | null | readonly Typed[] | { readonly [key: string]: Typed }

export const PLAIN = /^[+-]?(\d{1,12})(\.\d{1,12})?$/

export const asTyped = (text: string): string | number => {
  const trimmed = text.trim()
  return PLAIN.test(trimmed) ? Number(trimmed) : trimmed
}

const UNITS: Readonly<Record<System, Readonly<Record<string, string>>>> = {
  metric: { length: 'mm', mass: 'kg', stiffness: 'N/mm' },
  inch: { length: 'in', mass: 'lb', stiffness: 'lbf/in' },
}

/** A number typed without a unit, with that of the system in which the person reads: "1 3/4" is "1 3/4 in". */
export function withUnit(text: string, kind: string, system: System): string {
  const unit = UNITS[system][kind]
  return unit && /^[\d\s.,/±+-]*\d$/.test(text.trim()) ? `${text.trim()} ${unit}` : text
}

const IN_MM: Readonly<Record<string, number>> = { in: 25.4, '"': 25.4, cm: 10, m: 1000 }

/** A length as typed, in mm, near enough to draw by; 0 where it says nothing. */
export function roughly(text: string): number {
  const found = /^\s*(\d+(?:[.,]\d+)?(?!\d*\/))?\s*(?:(\d+)\/(\d+))?[^a-z"]*([a-z"]+)?/i.exec(text)
  const whole = Number((found?.[1] ?? '0').replace(',', '.'))
  const part = found?.[2] && Number(found[3]) > 0 ? Number(found[2]) / Number(found[3]) : 0
  return (whole + part) * (IN_MM[(found?.[4] ?? '').toLowerCase()] ?? 1)
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
