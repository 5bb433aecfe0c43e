// Tapes as the file has them, and what each kind asks for.
import { tableOf, type Op, type Values } from '../ops'
import { isTable, type Typed } from '../typed'
import { asList, listOf } from './lists'

export type TapeKind = 'between' | 'height' | 'offset' | 'ahead' | 'plumb' | 'level' | 'along' | 'side'

export interface Asks {
  readonly words: string
  readonly points: readonly string[] // a label for each
  readonly reads: boolean
  readonly help: string
}

export const TAPES: Readonly<Record<TapeKind, Asks>> = {
  between: { words: 'From point to point', points: ['Hook at', 'Read at'], reads: true, help: 'Straight from middle to middle, the tape tight. Hold the hook\'s 100 mm mark on the point and take 100 off: the hook is loose by its own thickness.' },
  height: { words: 'Above the floor', points: ['Height of'], reads: true, help: 'Plumb down from the point. A garage floor is not flat: measure from a string line pulled level.' },
  offset: { words: 'From the centre plane', points: ['Offset of'], reads: true, help: 'Square out from a string along the middle; plus is left.' },
  ahead: { words: 'How far ahead, along the floor', points: ['From below', 'To below'], reads: true, help: 'Plumb both down on masking tape, measure along the vehicle. The second is that far ahead.' },
  plumb: { words: 'One straight above the other', points: ['One', 'Other'], reads: false, help: 'A plumb line through the one meets the other.' },
  level: { words: 'At one height', points: ['One', 'Another', 'A third, if any'], reads: false, help: 'By a spirit level or a water hose.' },
  along: { words: 'On the line through two', points: ['The line begins at', 'and goes through', 'On it lies'], reads: true, help: 'Along a tube: read from where the line begins.' },
  side: { words: 'On which side it lies', points: ['It is this point', 'as seen from', 'and', 'and, in space'], reads: false, help: 'Of two mirror images that fit the tapes the true one.' },
}
export const SIDES = ['above', 'below', 'left', 'right', 'ahead', 'behind'] as const

/** A line over the vehicle: the tape that is asked for now, or one that was taken and how it stands. */
export interface TapeLine {
  readonly from: string
  readonly to: string
  readonly is: 'now' | 'good' | 'watch' | 'fix' | 'stop' | 'said'
}

const kindOf = (entry: Readonly<Record<string, unknown>>): TapeKind | undefined =>
  (Object.keys(TAPES) as TapeKind[]).find((kind) => entry[kind] !== undefined)

export interface Taken {
  readonly name: string
  readonly kind: TapeKind
  readonly points: readonly string[]
  readonly reads: readonly Typed[]
}

export const takenOf = (values: Values): readonly Taken[] =>
  Object.entries(tableOf(values, 'tape')).flatMap(([name, entry]) => {
    const kind = isTable(entry) ? kindOf(entry) : undefined
    if (!isTable(entry) || !kind) return []
    const own = [...listOf(entry[kind]), ...(kind === 'along' ? listOf(entry['point']) : []), ...(kind === 'side' ? listOf(entry['of']) : [])]
    return [{ name, kind, points: own.map(String), reads: listOf(entry['reads']) }]
  })

const same = (a: Taken, kind: TapeKind, points: readonly string[]): boolean =>
  a.kind === kind && a.points.length === points.length && (kind === 'between' ? points.every((point) => a.points.includes(point)) : a.points.every((point, i) => point === points[i]))

function nameFor(values: Values, kind: TapeKind, points: readonly string[]): string {
  const plain = points.map((point) => point.replace(/-left$/, ''))
  const stem = kind === 'between' ? plain.join('-to-') : `${kind}-${plain.join('-')}`
  const taken = tableOf(values, 'tape')
  for (let i = 1; ; i += 1) {
    const name = i === 1 ? stem : `${stem}-${i}`
    if (!(name in taken)) return name
  }
}

/** A tape put into the file; a pair that was taped before gains another reading. */
export function addTape(values: Values, kind: TapeKind, points: readonly string[], more: { readonly read: Typed | null; readonly is: string }): Op[] {
  const before = more.read === null ? undefined : takenOf(values).find((taken) => same(taken, kind, points))
  if (before && more.read !== null) return [{ op: 'set', key: ['tape', before.name, 'reads'], value: asList([...before.reads, more.read]) }]
  const [first = ''] = points
  const own: Readonly<Record<string, Typed>> =
    kind === 'height' || kind === 'offset' ? { [kind]: first }
    : kind === 'along' ? { along: points.slice(0, 2), point: points[2] ?? '' }
    : kind === 'side' ? { side: first, of: points.slice(1), is: more.is }
    : { [kind]: points }
  return [{ op: 'set', key: ['tape', nameFor(values, kind, points)], value: { ...own, ...(more.read === null ? {} : { reads: more.read }) } }]
}
