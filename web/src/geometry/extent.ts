// How much room a vehicle takes, and whether a sheet that was fitted to it still serves.
import type { Drawing } from '../wire'
import type { Place } from './space'

/** The places that a sheet must show: every point, and each wheel all round. */
export const cornersOf = (drawing: Drawing): Place[] => [
  ...Object.values(drawing.points).map(({ at }) => at),
  ...Object.values(drawing.wheels).flatMap((wheel): Place[] => {
    const [x, y, z] = drawing.points[wheel.centre]?.at ?? [0, 0, 0]
    const r = wheel.radius_mm
    return drawing.points[wheel.centre] ? [[x + r, y, z + r], [x - r, y, z - r], [x, y + r / 3, z], [x, y - r / 3, z]] : []
  }),
]

/** Beyond the edge by this share of the vehicle's size, something is cut off. */
const OUT = 0.04
/** Away from the edge by this share of its size, the vehicle has become small on its sheet. */
const IN = 0.25

/** True where a sheet fitted to `before` cuts `now` off, or shows it small. */
export function outgrown(before: readonly Place[], now: readonly Place[]): boolean {
  const ends = (places: readonly Place[], axis: 0 | 1 | 2): readonly [number, number] => {
    const along = places.map((at) => at[axis])
    return [Math.min(...along), Math.max(...along)]
  }
  const axes = ([0, 1, 2] as const).map((axis) => [ends(before, axis), ends(now, axis)] as const)
  const size = Math.max(...axes.map(([[least, most]]) => most - least))
  return axes.some(([[least, most], [low, high]]) =>
    [least - low, high - most].some((out) => out > OUT * size || out < -IN * size))
}
