// Places and directions in the chassis frame (x forward, y left, z up), millimetres.
export type Place = readonly [number, number, number]
export type Flat = readonly [number, number]

export const dot = (a: Place, b: Place): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

export const plus = (a: Place, b: Place, times = 1): Place => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
]

export const minus = (a: Place, b: Place): Place => plus(a, b, -1)

export const cross = (a: Place, b: Place): Place => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]

export const size = (a: Place): number => Math.hypot(a[0], a[1], a[2])

/** The direction of `a`, or `otherwise` where `a` has no length worth the name (1 nm). */
export function direction(a: Place, otherwise: Place): Place {
  const length = size(a)
  return length > 1e-6 ? [a[0] / length, a[1] / length, a[2] / length] : otherwise
}

/** The place as its twin on the other side has it. */
export const mirrored = (a: Place): Place => [a[0], -a[1], a[2]]
