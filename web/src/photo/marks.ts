// Places in a picture, and between the picture and the screen.

/** Pixels of the picture: to the right, down. */
export type At = readonly [number, number]

/** Where something lies on the screen, CSS pixels. */
export interface Frame {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

/** A finger hides what it points at, so the mark stands this far above it, CSS pixels. */
export const FINGER = 64

/** Tenths of a pixel: finer than any hand, short in the file. */
const tenth = (value: number): number => Math.round(value * 10) / 10

export const inside = (size: At, [x, y]: At): At => [
  tenth(Math.min(size[0], Math.max(0, x))),
  tenth(Math.min(size[1], Math.max(0, y))),
]

/** The place in the picture under a pointer; of a finger, the one above it. */
export function under(frame: Frame, size: At, pointer: { readonly x: number; readonly y: number; readonly finger: boolean }): At {
  const scale = size[0] / Math.max(frame.width, 1)
  const y = pointer.y - (pointer.finger ? FINGER : 0)
  return inside(size, [(pointer.x - frame.left) * scale, (y - frame.top) * scale])
}

const WAYS: Readonly<Record<string, At>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }

/** The place after an arrow key; null for any other key. */
export function stepped(size: At, from: At, key: string, step: number): At | null {
  const way = WAYS[key]
  return way ? inside(size, [from[0] + way[0] * step, from[1] + way[1] * step]) : null
}

/** A list of two numbers, as the file holds a place; null for anything else. */
export function asAt(value: unknown): At | null {
  if (!Array.isArray(value) || value.length !== 2) return null
  const [x, y] = value as readonly unknown[]
  return typeof x === 'number' && typeof y === 'number' ? [x, y] : null
}

export const allAt = (value: unknown): readonly At[] =>
  Array.isArray(value) ? value.map(asAt).filter((at) => at !== null) : []

/** The corner of the rectangle that is picked as the first, second, third and fourth. */
export const CORNERS = ['upper left', 'upper right', 'lower right', 'lower left'] as const
