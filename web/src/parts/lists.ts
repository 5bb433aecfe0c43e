import { asTyped, shown, type Typed } from '../typed'

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
