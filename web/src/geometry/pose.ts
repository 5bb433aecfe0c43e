import type { Drawing, Sweep, SweepAssembly } from '../wire'
import type { Place } from './space'

/** Between which two poses of a sweep a travel lies, and how far along. */
export interface Slot {
  readonly first: number
  readonly part: number
}

/** The slot of `drive` among ascending `poses`; ends hold beyond the ends. */
export function slotOf(poses: readonly number[], drive: number): Slot | null {
  const last = poses.length - 1
  if (last < 0) return null
  let [low, high] = [0, last]
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((poses[middle] ?? 0) <= drive) low = middle
    else high = middle
  }
  const [from, to] = [poses[low] ?? 0, poses[high] ?? 0]
  const part = to > from ? (drive - from) / (to - from) : 0
  return { first: low, part: Math.min(1, Math.max(0, part)) }
}

/** The value of a column at a slot; null where the column has none. */
export function inColumn(column: readonly (number | null)[] | null | undefined, slot: Slot | null): number | null {
  if (!column || !slot) return null
  const from = column[slot.first] ?? null
  const to = column[slot.first + 1] ?? from
  if (from === null || to === null) return slot.part < 0.5 ? from : to
  return from + (to - from) * slot.part
}

/** Where a moving point is at a slot, from its column of three numbers a pose. */
export function placeAt(column: readonly number[], slot: Slot): Place {
  const start = 3 * slot.first
  const next = start + 3 < column.length ? start + 3 : start
  const at = (axis: number): number => {
    const from = column[start + axis] ?? 0
    return from + ((column[next + axis] ?? from) - from) * slot.part
  }
  return [at(0), at(1), at(2)]
}

/** Every point's place with the wheels moved by `drive`; null `drive`: as measured. */
export function posed(drawing: Drawing, sweep: Sweep | undefined, drive: number | null): Map<string, Place> {
  const places = new Map<string, Place>()
  for (const [name, point] of Object.entries(drawing.points)) places.set(name, point.at)
  if (!sweep || drive === null) return places
  for (const assembly of sweep.assemblies) {
    const slot = slotOf(assembly.drive_mm, drive)
    if (!slot) continue
    for (const [name, column] of Object.entries(assembly.points_mm)) {
      if (places.has(name)) places.set(name, placeAt(column, slot))
    }
  }
  return places
}

/** The range that the wheels of a sweep can be moved through, least and most; null when none moves. */
export function driveRange(sweep: Sweep | undefined): readonly [number, number] | null {
  let range: [number, number] | null = null
  for (const { drive_mm: poses } of sweep?.assemblies ?? []) {
    const [first, last] = [poses[0], poses[poses.length - 1]]
    if (first === undefined || last === undefined) continue
    range = range ? [Math.min(range[0], first), Math.max(range[1], last)] : [first, last]
  }
  return range
}

export const assemblyOf = (sweep: Sweep | undefined, wheel: string): SweepAssembly | undefined =>
  sweep?.assemblies.find((assembly) => assembly.wheels.includes(wheel))
