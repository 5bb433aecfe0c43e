// The edits of the file that the page asks for. The program carries them out, comments kept.
import type { Drawing } from './wire'
import { pointsOf, type Table } from './geometry/parts'
import { mirrored, type Place } from './geometry/space'
import { isTable, toStep, type Typed } from './typed'

export type Op =
  | { readonly op: 'set' | 'add'; readonly key: readonly string[]; readonly value: Typed }
  | { readonly op: 'delete'; readonly key: readonly string[] }
  | { readonly op: 'rename'; readonly table: string; readonly from: string; readonly to: string }

export type Values = Readonly<Record<string, unknown>>
export type Plane = 'xz' | 'yz' | null

export const tableOf = (values: Values, table: string): Readonly<Record<string, unknown>> => {
  const found = values[table]
  return isTable(found) ? found : {}
}

/** The names that a field may hold: those written in the file, and the twins that were made of them. */
export const namesIn = (values: Values, drawing: Drawing, table: string | null): readonly string[] => {
  const drawn = table === 'points' || table === 'bodies' ? Object.keys(drawing[table]) : []
  return [...new Set([...Object.keys(tableOf(values, table ?? '')), ...drawn])]
}

/** Every wheel, half made ones too: those of the file, a twin right after its original. */
export const wheelsOf = (values: Values, drawing: Drawing): readonly string[] => {
  const written = Object.keys(tableOf(values, 'wheels'))
  const both = written.flatMap((name) => (values['mirror'] === true && name.endsWith('-left') ? [name, name.replace(/-left$/, '-right')] : [name]))
  return [...new Set([...both, ...Object.keys(drawing.wheels)])]
}

/** The axes that a point states in the file, in its order. */
export const axesOf = (plane: Plane): readonly (0 | 1 | 2)[] =>
  plane === 'xz' ? [0, 2] : plane === 'yz' ? [1, 2] : [0, 1, 2]

/** A point's coordinates as they stand in the file; null for a twin that is not written. */
export function written(values: Values, name: string): readonly unknown[] | null {
  const point = tableOf(values, 'points')[name]
  const at = isTable(point) ? point['at'] : point
  return Array.isArray(at) ? at : null
}

const keyOfPoint = (values: Values, name: string): readonly string[] =>
  isTable(tableOf(values, 'points')[name]) ? ['points', name, 'at'] : ['points', name]

export const setPoint = (values: Values, name: string, at: readonly Typed[]): Op => ({
  op: 'set',
  key: keyOfPoint(values, name),
  value: at,
})

/** A point put at a place by hand; a twin that is not written moves its original. Coordinates that did not move stay as typed. */
export function movePoint(drawing: Drawing, values: Values, plane: Plane, name: string, place: Place): Op {
  const twin = written(values, name) ? null : (drawing.points[name]?.twin_of ?? null)
  const target = twin ?? name
  const to = twin ? mirrored(place) : place
  const now = drawing.points[target]?.at ?? to
  const typed = written(values, target) ?? []
  const at = axesOf(plane).map((axis, i): Typed => {
    const moved = Math.abs(to[axis] - now[axis]) > 0.01
    const before = typed[i]
    return !moved && (typeof before === 'string' || typeof before === 'number') ? before : toStep(to[axis])
  })
  return setPoint(values, target, at)
}

/** All points of a part moved by one step; shared points move once. */
export function movePart(drawing: Drawing, values: Values, plane: Plane, part: { table: Table; name: string; by: Place }): Op[] {
  const originals = new Set(pointsOf(drawing, part.table, part.name).map((name) => {
    const twin = drawing.points[name]?.twin_of
    return written(values, name) ? name : (twin ?? name)
  }))
  return [...originals].flatMap((name) => {
    const at = drawing.points[name]?.at
    if (!at) return []
    const to: Place = [at[0] + part.by[0], at[1] + part.by[1], at[2] + part.by[2]]
    return [movePoint(drawing, values, plane, name, to)]
  })
}

const without = (list: unknown, name: string): Typed[] | null =>
  Array.isArray(list) && list.includes(name) ? list.filter((item: Typed) => item !== name) : null

const LINES = ['bars', 'springs', 'straps'] as const

/** Deletes a part. With a point go the bars, springs and straps that end at it, and its place in bodies. */
export function deletePart(values: Values, table: Table, name: string): { ops: Op[]; also: string[] } {
  const ops: Op[] = [{ op: 'delete', key: [table, name] }]
  const also: string[] = []
  if (table !== 'points') return { ops, also }
  for (const [body, points] of Object.entries(tableOf(values, 'bodies'))) {
    const rest = without(points, name)
    if (rest) ops.unshift({ op: 'set', key: ['bodies', body], value: rest })
  }
  for (const line of LINES) {
    for (const [part, keys] of Object.entries(tableOf(values, line))) {
      if (!isTable(keys) || !without(keys['ends'], name)) continue
      ops.unshift({ op: 'delete', key: [line, part] })
      also.push(part)
    }
  }
  return { ops, also }
}

/** A new point, carried by a body at once: a hole. */
export function addPoint(values: Values, name: string, at: readonly Typed[], body: string | null): Op[] {
  const ops: Op[] = [{ op: 'add', key: ['points', name], value: at }]
  const points = body === null ? null : tableOf(values, 'bodies')[body]
  if (body !== null) ops.push({ op: 'set', key: ['bodies', body], value: [...(Array.isArray(points) ? (points as Typed[]) : []), name] })
  return ops
}

/** A name nobody has yet: `stem-1`, `stem-2`, … with the side's ending. */
export function freeName(values: Values, table: string, stem: string, left: boolean): string {
  const taken = tableOf(values, table)
  const ending = left ? '-left' : ''
  for (let i = 1; ; i += 1) {
    const name = `${stem}-${i}${ending}`
    if (!(name in taken)) return name
  }
}

/** Whether the file says anything at a dotted key. */
export const standsAt = (values: Values, key: string): boolean =>
  key.split('.').reduce<unknown>((inside, part) => (isTable(inside) ? inside[part] : undefined), values) !== undefined
