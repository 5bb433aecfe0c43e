import { hasTwoUnits, shownIn, writtenFor } from '../quantities'
import { asTyped, shown, type Typed } from '../typed'
import type { System } from '../words'

/** "20, 450" or rows "0, 84, 62; 20, 450, 410" as the lists that they are. */
export function readList(text: string): Typed[] {
  const rows = text.split(';').map((row) => row.trim()).filter(Boolean)
  const lists = rows.map((row) => row.split(',').map((item) => asTyped(item)).filter((item) => item !== ''))
  return rows.length > 1 || text.includes(';') ? lists : (lists[0] ?? [])
}

/** A list of the file as it is typed. */
export function sayList(value: unknown): string {
  if (!Array.isArray(value)) return shown(value)
  const rows: readonly unknown[] = value
  if (rows.some((row) => Array.isArray(row))) return rows.map((row) => sayList(row)).join('; ') + (rows.length === 1 ? ';' : '')
  return rows.map((item) => shown(item)).join(', ')
}

/** A list of the file in the units that the person reads. */
export const sayListIn = (value: unknown, kind: string | null, system: System): string =>
  kind && hasTwoUnits(kind) && Array.isArray(value) ? value.map((item) => shownIn(item, kind, system).text).join(', ') : sayList(value)

/** The list that was typed, each number in the unit that the file has in its place. */
export function readListIn(text: string, kind: string | null, system: System, before: unknown): Typed[] {
  if (!kind || !hasTwoUnits(kind)) return readList(text)
  const stood: readonly unknown[] = Array.isArray(before) ? before : []
  return text.split(',').map((item) => item.trim()).filter(Boolean).map((item, i) => {
    const same = stood[i] !== undefined && shownIn(stood[i], kind, system).text === item
    return same ? (stood[i] as Typed) : writtenFor(item, kind, system, stood[i])
  })
}
