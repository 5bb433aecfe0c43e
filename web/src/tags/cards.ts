// The job cards in the order of the work, and the builder's questions that each answers.
import type { ShownFinding } from '../wire'

export interface Card {
  readonly id: string
  readonly title: string
  readonly takes: string // tools and time
  readonly confirm?: string // what the foot says until it is ticked off
  readonly questions: readonly string[]
}

export const CARDS = {
  weigh: { id: 'weigh', title: 'Stand it on the scale', confirm: 'Put in what the scale reads under each wheel', takes: '15 min, scale, blocks', questions: [] },
  ride: { id: 'ride', title: 'Who rides', takes: '5 min, what each weighs', questions: [] },
  shock: { id: 'shock', title: 'Squash a shock', confirm: 'Put in the stiffness and the lengths of the shock', takes: '10 min, tape, scale, tube', questions: [] },
  pile: { id: 'pile', title: 'The pile', takes: 'every shock you own', questions: [] },
  tape: { id: 'tape', title: 'Hold the tape here', takes: '30 min, tape, punch, string', questions: [] },
  trust: { id: 'trust', title: 'Say how you measured', confirm: 'Say how the points were measured', takes: '2 min, what you wrote down', questions: ['Can I trust my numbers?'] },
  push: { id: 'push', title: 'Push the wheel', takes: 'the drawing', questions: ['Does it move?', 'Does it lock or bind?'] },
  stand: { id: 'stand', title: 'Let it stand', takes: 'the drawing', questions: ['Does it sit right?'] },
  trial: { id: 'trial', title: 'Cut it from card first', takes: 'card, pins, string, 20 min', questions: ['Can it be made?', 'Is it what I built?'] },
  make: { id: 'make', title: 'Mark, drill and cut', takes: 'printer, punch, drill press', questions: ['Does it clear?', 'Will it hold?', 'Is it safe to drive and to touch?', 'Does it stay right?'] },
} as const satisfies Readonly<Record<string, Card>>

export type CardId = keyof typeof CARDS

const FIRST = [CARDS.weigh, CARDS.shock, CARDS.trust] as const

/** The first of the cards of weighing and measuring that is not ticked off. */
export const firstUndone = (ticked: readonly string[]): (typeof FIRST)[number] | undefined => FIRST.find(({ id }) => !ticked.includes(id))

/** The card that answers a question; one nobody knows is asked where the numbers are looked at. */
export const cardOf = (question: string): CardId =>
  (Object.keys(CARDS) as CardId[]).find((id) => (CARDS[id].questions as readonly string[]).includes(question)) ?? 'trust'

/** Findings that belong to the card where their numbers were put in, whatever the question. */
const AT_CARD: Readonly<Record<string, CardId>> = {
  'scale-does-not-close': 'weigh', 'wheel-raised': 'weigh', 'tilt-too-small': 'weigh',
  'tips-first': 'ride', 'coupling-share': 'ride', 'load-set-outside': 'ride',
  'shock-unfit': 'shock', 'bench-stroke-short': 'shock', 'wire-and-bench-differ': 'shock',
  'sag-by-preload': 'pile',
  'tapes-disagree': 'tape', 'tape-unchecked': 'tape', 'place-undetermined': 'tape', 'mirror-image': 'tape',
}

export const findingsOf = (findings: readonly ShownFinding[], id: CardId): readonly ShownFinding[] =>
  findings.filter((finding) => (AT_CARD[finding.id] ?? cardOf(finding.question)) === id)

export type Severity = ShownFinding['severity']
const ORDER: readonly Severity[] = ['stop', 'fix', 'watch', 'good']

/** The worst of some findings; null when there is none. */
export const worst = (findings: readonly ShownFinding[]): Severity | null =>
  ORDER.find((severity) => findings.some((finding) => finding.severity === severity)) ?? null

export interface Asked {
  readonly question: string
  readonly findings: readonly ShownFinding[]
}

/** Findings by question, in the order they come. */
export function byQuestion(findings: readonly ShownFinding[]): readonly Asked[] {
  const questions = [...new Set(findings.map(({ question }) => question))]
  return questions.map((question) => ({ question, findings: findings.filter((finding) => finding.question === question) }))
}
