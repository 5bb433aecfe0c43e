import type { Drawing } from '../wire'
import { direction, dot, minus, plus, size, type Place } from './space'

export type Role = 'chassis' | 'plate' | 'carrier' | 'arm'

const endsOn = (drawing: Drawing, points: ReadonlySet<string>): { bar: boolean; spring: boolean } => ({
  bar: Object.values(drawing.bars).some(({ ends }) => ends.some((end) => points.has(end))),
  spring: Object.values(drawing.springs).some(({ ends }) => ends?.some((end) => points.has(end)) ?? false),
})

/** How a body is drawn: the chassis hatched, levers as plates, what carries a wheel, other arms. */
export function roleOf(drawing: Drawing, name: string): Role {
  if (name === 'chassis') return 'chassis'
  if (Object.values(drawing.wheels).some((wheel) => wheel.body === name)) return 'carrier'
  const points = new Set(drawing.bodies[name]?.points ?? [])
  const { bar, spring } = endsOn(drawing, points)
  return bar && spring ? 'plate' : 'arm'
}

/** The spin axis of a wheel, outward; across the vehicle where none is given. */
export function spinDir(drawing: Drawing, name: string, places: ReadonlyMap<string, Place>): Place {
  const wheel = drawing.wheels[name]
  const across: Place = [0, 1, 0]
  if (!wheel?.axis) return across
  const [from, to] = [places.get(wheel.axis[0]), places.get(wheel.axis[1])]
  return from && to ? direction(minus(to, from), across) : across
}

/** The twin's original, or the name itself. */
export const originalOf = (drawing: Drawing, table: Table, name: string): string => {
  if (table === 'shocks') return name
  const part: { readonly twin_of?: string | null } | undefined = drawing[table][name]
  return part?.twin_of ?? name
}

export const TABLES = ['points', 'bodies', 'bars', 'springs', 'shocks', 'straps', 'wheels', 'held'] as const
export type Table = (typeof TABLES)[number]

/** Points that a part stands on. */
export function pointsOf(drawing: Drawing, table: Table, name: string): readonly string[] {
  switch (table) {
    case 'points':
      return [name]
    case 'bodies':
      return drawing.bodies[name]?.points ?? []
    case 'bars':
      return drawing.bars[name]?.ends ?? []
    case 'springs': {
      const spring = drawing.springs[name]
      return spring?.ends ?? (spring?.hinge ?? []).flatMap((body) => drawing.bodies[body]?.points ?? [])
    }
    case 'straps':
      return drawing.straps[name]?.ends ?? []
    case 'wheels': {
      const wheel = drawing.wheels[name]
      return wheel ? [...new Set([wheel.centre, ...(wheel.axis ?? [])])] : []
    }
    case 'held': {
      const held = drawing.held[name]
      return held?.point ? [held.point] : []
    }
    case 'shocks':
      return []
  }
}

/** Distance of a place from the line through two others (or from the one). */
function fromLine(place: Place, line: readonly Place[]): { far: number; foot: Place } {
  const [a, b] = line
  if (!a) return { far: 0, foot: place }
  if (!b) return { far: size(minus(place, a)), foot: a }
  const along = direction(minus(b, a), [0, 1, 0])
  const foot = plus(a, along, dot(along, minus(place, a)))
  return { far: size(minus(place, foot)), foot }
}

export interface Size {
  readonly from: Place
  readonly to: Place
  readonly length: number
  readonly awayFrom?: Place // the side that the size does not stand on
}

/** The lever arms of a body on a hinge to the chassis: each hole from the pivot line. */
export function armsOf(drawing: Drawing, body: string, places: ReadonlyMap<string, Place>): Size[] {
  const names = drawing.bodies[body]?.points ?? []
  const onChassis = (name: string): boolean => drawing.points[name]?.bodies.includes('chassis') ?? false
  const at = (name: string): Place[] => [places.get(name)].filter((place) => place !== undefined)
  const hinge = names.filter(onChassis).flatMap(at).slice(0, 2)
  if (hinge.length === 0) return []
  const all = names.flatMap(at)
  const middle = all.reduce<Place>((sum, place) => plus(sum, place, 1 / all.length), [0, 0, 0])
  return names.filter((name) => !onChassis(name)).flatMap(at).map((to) => {
    const { far, foot } = fromLine(to, hinge)
    return { from: foot, to, length: far, awayFrom: middle }
  })
}

/** Sizes to write into the drawing: bars, springs and levers of one side. */
export function sizesOf(drawing: Drawing, places: ReadonlyMap<string, Place>): Size[] {
  const between = (ends: readonly [string, string] | null): Size[] => {
    const [from, to] = [places.get(ends?.[0] ?? ''), places.get(ends?.[1] ?? '')]
    return from && to ? [{ from, to, length: size(minus(to, from)) }] : []
  }
  const lines = [...Object.values(drawing.bars), ...Object.values(drawing.springs)]
  const levers = Object.keys(drawing.bodies).filter((name) => !drawing.bodies[name]?.twin_of && roleOf(drawing, name) === 'plate')
  return [
    ...lines.filter(({ twin_of }) => !twin_of).flatMap(({ ends }) => between(ends)),
    ...levers.flatMap((name) => armsOf(drawing, name, places)),
  ].filter(({ length }) => length > 1)
}

/** Does the view from the front tell more than the one from the side: is one side's linkage wider than long? */
export function frontTells(drawing: Drawing): boolean {
  const places = Object.values(drawing.points).filter(({ twin_of }) => !twin_of).map(({ at }) => at)
  const spread = (axis: 0 | 1): number => {
    const along = places.map((at) => at[axis])
    return along.length > 0 ? Math.max(...along) - Math.min(...along) : 0
  }
  return spread(1) > spread(0)
}
