// Outlines of parts in the plane of the view, as SVG path data in millimetres.
import { cross, direction, plus, type Flat, type Place } from './space'
import { flatten, type View } from './view'

const say = (value: number): string => (Math.round(value * 100) / 100).toString()

export function pathOf(flats: readonly Flat[], closed = false): string {
  if (flats.length === 0) return ''
  const steps = flats.map(([u, v], i) => `${i ? 'L' : 'M'}${say(u)} ${say(v)}`)
  return steps.join('') + (closed ? 'Z' : '')
}

/** Convex hull, counter-clockwise (Andrew's monotone chain). */
export function hull(flats: readonly Flat[]): Flat[] {
  const sorted = [...flats].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  if (sorted.length < 3) return sorted
  const half = (points: readonly Flat[]): Flat[] => {
    const chain: Flat[] = []
    for (const point of points) {
      while (chain.length > 1) {
        const [a, b] = [chain[chain.length - 2] as Flat, chain[chain.length - 1] as Flat]
        const turn = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
        if (turn > 1e-9) break
        chain.pop()
      }
      chain.push(point)
    }
    chain.pop()
    return chain
  }
  return [...half(sorted), ...half(sorted.reverse())]
}

const ROUND = 40

/** A circle about `axis` in space, as flat places. */
export function ring(view: View, centre: Place, axis: Place, radius: number): Flat[] {
  const first = direction(cross(axis, Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]), [1, 0, 0])
  const second = cross(axis, first)
  return Array.from({ length: ROUND }, (_, i) => {
    const turn = (2 * Math.PI * i) / ROUND
    const spoke = plus(plus(centre, first, radius * Math.cos(turn)), second, radius * Math.sin(turn))
    return flatten(view, spoke)
  })
}

/** Share of a tyre's radius that its width is drawn with: a picture, not a measurement. */
const TYRE_WIDTH = 0.34
/** The round of a tyre: share of the half width, share of the radius. */
const TYRE_ROUND: readonly Flat[] = [-1, -0.75, -0.4, 0, 0.4, 0.75, 1].map((aside): Flat => [aside, 1 - (TYRE_WIDTH / 2) * (1 - Math.sqrt(1 - aside * aside))])

/** The silhouette of a tyre. */
export function tyreOutline(view: View, centre: Place, axis: Place, radius: number): Flat[] {
  const half = (TYRE_WIDTH / 2) * radius
  return hull(TYRE_ROUND.flatMap(([aside, share]) => ring(view, plus(centre, axis, aside * half), axis, share * radius)))
}

export interface WheelShape {
  readonly tyre: string
  readonly rim: string
  readonly spokes: string
}

/** A wheel: the silhouette of its tyre, its rim on the near side, four spokes. */
export function wheelShape(view: View, centre: Place, axis: Place, radius: number, eye: Place): WheelShape {
  const half = (TYRE_WIDTH / 2) * radius
  const near = axis[0] * eye[0] + axis[1] * eye[1] + axis[2] * eye[2] >= 0 ? 1 : -1
  const face = ring(view, plus(centre, axis, near * half), axis, 0.6 * radius)
  const spokes = [0, 10, 20, 30].map((i) => pathOf([flatten(view, plus(centre, axis, near * half)), face[i] as Flat]))
  return { tyre: pathOf(tyreOutline(view, centre, axis, radius), true), rim: pathOf(face, true), spokes: spokes.join('') }
}

/** A coil between two flat ends: straight eyes, then zigzags. `width` is its whole width, mm. */
export function coil(from: Flat, to: Flat, turns: number, width: number): string {
  const [du, dv] = [to[0] - from[0], to[1] - from[1]]
  const long = Math.hypot(du, dv)
  if (long < 1e-6) return ''
  const [u, v] = [du / long, dv / long]
  const at = (along: number, aside: number): Flat => [from[0] + u * along - v * aside, from[1] + v * along + u * aside]
  const eye = Math.min(0.12 * long, 30)
  const step = (long - 2 * eye) / (2 * turns)
  const flats: Flat[] = [from, at(eye, 0)]
  for (let i = 0; i < 2 * turns; i += 1) flats.push(at(eye + step * (i + 0.5), (i % 2 ? -1 : 1) * (width / 2)))
  flats.push(at(long - eye, 0), to)
  return pathOf(flats)
}

/** The shock within the coil: its body (wide) and rod (thin), as two lines. */
export function shockLines(from: Flat, to: Flat): { body: string; rod: string } {
  const at = (part: number): Flat => [from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part]
  return { body: pathOf([at(0.5), at(0.94)]), rod: pathOf([at(0.06), at(0.5)]) }
}

/** A strap: straight when taut, hanging (along `down`) by the slack that is left. */
export function strapLine(from: Flat, to: Flat, length: number, apart: number): string {
  const slack = Math.max(0, length - apart)
  // A shallow arc of span L and sag h is longer than L by 8 h²/(3 L).
  const sag = Math.sqrt((3 * apart * slack) / 8)
  const [mu, mv] = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2 - 2 * sag]
  return `M${say(from[0])} ${say(from[1])}Q${say(mu)} ${say(mv)} ${say(to[0])} ${say(to[1])}`
}
