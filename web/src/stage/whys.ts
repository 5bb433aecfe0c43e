// What the moving numbers are, for who asks; the last words are the trade's.
export interface Why {
  readonly why: string
  readonly trade: string
}

export const WHYS = {
  travel: { why: 'How far the middle of the wheel is above (+) or below (-) the place where it was measured.', trade: 'wheel travel, bump and droop' },
  ratio: { why: 'How far the spring is squashed for each millimetre that this wheel goes up, the others held still. Below 1 the spring moves less than the wheel. Stiffness at the wheel goes with its square.', trade: 'motion ratio' },
  push: { why: 'With what force the spring presses its two eyes apart in this place, gas and bump stop with it.', trade: 'spring force' },
  twist: { why: 'How far the torsion spring is twisted for each step that this wheel goes up, the others held still.', trade: 'motion ratio of a torsion spring' },
  moment: { why: 'With what moment the torsion spring turns its two parts apart in this place.', trade: 'torsion moment' },
  length: { why: 'From the middle of one eye to the middle of the other. The shock can only be as long as fully open and as short as fully closed.', trade: 'eye to eye' },
  rate: { why: 'How much more force the wheel takes for each millimetre that it goes up: the spring through the lever, and what the lever itself changes while it turns.', trade: 'wheel rate, with the geometric term' },
  ground: { why: 'The force upward under the wheel that holds the springs in this place, without the weight of the parts.', trade: 'vertical wheel force' },
  camber: { why: 'How far the top of the wheel leans outward (+) or inward (-).', trade: 'camber' },
  toe: { why: 'How far the front of the wheel turns inward (+) or outward (-).', trade: 'toe' },
} as const satisfies Readonly<Record<string, Why>>

export type WhyKey = keyof typeof WHYS
