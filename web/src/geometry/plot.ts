// A curve over the wheel's travel, laid out in pixels.
import type { Flat } from './space'

export interface Frame {
  readonly width: number
  readonly height: number
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

export interface Scale {
  readonly least: number
  readonly most: number
  readonly ticks: readonly number[]
}

/** Steps of 1, 2 or 5 times a power of ten that give at most `most` parts. */
export function niceStep(span: number, most: number): number {
  const raw = span / most
  const power = 10 ** Math.floor(Math.log10(raw))
  return ([1, 2, 5, 10].find((times) => times * power >= raw * (1 - 1e-9)) ?? 10) * power
}

/** How often the usual size a value may be before it is drawn off the sheet: near dead centre rates run away. */
const RUNAWAY = 5

/** The values that a scale should hold: all, or without those that run away from the others. */
export function usual(values: readonly number[]): readonly number[] {
  const sizes = values.map(Math.abs).sort((a, b) => a - b)
  const middle = sizes[Math.floor(sizes.length / 2)] ?? 0
  const kept = values.filter((value) => Math.abs(value) <= RUNAWAY * middle)
  return kept.length > values.length / 2 ? kept : values
}

/** A scale that holds every value, its ends on ticks; zero is in it when it is near. */
export function scaleFor(values: readonly number[], parts: number, withZero: boolean): Scale {
  let least = Math.min(...values)
  let most = Math.max(...values)
  if (!Number.isFinite(least)) [least, most] = [0, 1]
  if (withZero) [least, most] = [Math.min(0, least), Math.max(0, most)]
  const flat = 0.05 * Math.max(Math.abs(least), Math.abs(most)) || 2
  if (most - least < flat) [least, most] = [least - flat / 2, most + flat / 2]
  const step = niceStep(most - least, parts)
  const [first, last] = [Math.floor(least / step + 1e-9), Math.ceil(most / step - 1e-9)]
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step)
  return { least: first * step, most: last * step, ticks }
}

export const xOf = (frame: Frame, scale: Scale, value: number): number =>
  frame.left + ((value - scale.least) / (scale.most - scale.least)) * (frame.width - frame.left - frame.right)

export const yOf = (frame: Frame, scale: Scale, value: number): number =>
  frame.height - frame.bottom - ((value - scale.least) / (scale.most - scale.least)) * (frame.height - frame.top - frame.bottom)

/** Path data of a curve; a null lifts the pen. */
export function curve(points: readonly (Flat | null)[]): string {
  let down = false
  return points
    .map((point) => {
      if (!point) {
        down = false
        return ''
      }
      const step = `${down ? 'L' : 'M'}${point[0].toFixed(1)} ${point[1].toFixed(1)}`
      down = true
      return step
    })
    .join('')
}
