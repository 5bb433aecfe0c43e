// Lists of readings as the file has them: one number, or several.
import type { Op, Values } from '../ops'
import { tableOf } from '../ops'
import { shownIn } from '../quantities'
import { isTable, type Typed } from '../typed'
import type { System } from '../words'

export const listOf = (value: unknown): readonly Typed[] =>
  value === undefined || value === null ? [] : Array.isArray(value) ? (value as Typed[]) : [value as Typed]

/** A list of one is written as the number itself. */
export const asList = (items: readonly Typed[]): Typed => (items.length === 1 ? (items[0] as Typed) : items)

/** A reading with its unit, in the units that the person reads. */
export function said(value: unknown, kind: string, system: System): string {
  const { text, unit } = shownIn(value, kind, system)
  return unit ? `${text} ${unit}` : text
}

/** The table of a name, such as `weighed.front-left`; empty where there is none. */
export function entryOf(values: Values, table: string, name: string): Readonly<Record<string, unknown>> {
  const found = tableOf(values, table)[name]
  return isTable(found) ? found : {}
}

/** The name under which a wheel was weighed: its own, or one that says which wheel it is of. */
export const weighedAs = (values: Values, wheel: string): string | null =>
  Object.entries(tableOf(values, 'weighed')).find(([name, entry]) => (isTable(entry) && typeof entry['wheel'] === 'string' ? entry['wheel'] === wheel : name === wheel))?.[0] ?? null

/** A reading taken away; with the last goes the whole entry. */
export function without(values: Values, table: string, name: string, key: string, index: number): Op[] {
  const rest = listOf(entryOf(values, table, name)[key]).filter((_, i) => i !== index)
  return rest.length > 0 ? [{ op: 'set', key: [table, name, key], value: asList(rest) }] : [{ op: 'delete', key: [table, name] }]
}

/** Rows of a bench test, put in the order of their marks; a mark read again takes the place of the one before. */
export interface BenchRow {
  readonly mark: Typed
  readonly in: Typed
  readonly out: Typed
}

export function benchRows(entry: Readonly<Record<string, unknown>>): readonly BenchRow[] {
  const [going, out] = [listOf(entry['in']), listOf(entry['out'])]
  return listOf(entry['marks']).map((mark, i) => ({ mark, in: going[i] ?? '', out: out[i] ?? '-' }))
}

const inMm = (mark: Typed): number => Number(shownIn(mark, 'length', 'metric').text)

export function withRow(rows: readonly BenchRow[], row: BenchRow): readonly BenchRow[] {
  return [...rows.filter(({ mark }) => inMm(mark) !== inMm(row.mark)), row].sort((a, b) => inMm(a.mark) - inMm(b.mark))
}

export const benchValue = (rows: readonly BenchRow[]): Readonly<Record<string, Typed>> => ({
  marks: rows.map(({ mark }) => mark),
  in: rows.map((row) => row.in),
  ...(rows.some(({ out }) => out !== '-') ? { out: rows.map(({ out }) => out) } : {}),
})
