// Readings of a tyre by scale and ruler, as the file has them: two lists that belong together.
import type { Values } from '../ops'
import { isTable, type Typed } from '../typed'
import { entryOf, listOf } from './lists'

export interface TyreRow {
  readonly load: Typed
  readonly height: Typed
}

/** Each load with the height under it; none where the tyre is a number or says nothing. */
export function tyreRows(values: Values, wheel: string): readonly TyreRow[] {
  const tyre = entryOf(values, 'wheels', wheel)['tyre']
  if (!isTable(tyre)) return []
  const heights = listOf(tyre['heights'])
  return listOf(tyre['loads']).map((load, i) => ({ load, height: heights[i] ?? '' }))
}

export const tyreValue = (rows: readonly TyreRow[]): Readonly<Record<string, Typed>> => ({
  loads: rows.map(({ load }) => load),
  heights: rows.map(({ height }) => height),
})
