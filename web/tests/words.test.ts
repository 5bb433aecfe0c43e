import { describe, expect, test } from 'vitest'
import { sayAngle, sayForce, sayLength, sayMoment, sayRatio, sayStiffness, sayTravel, sayTwist, type System } from '../src/words'
import said from './said.json'

// `said.json` is what the program itself says of these values (SI); see tests/browser/test_words.py.
interface Case {
  readonly value: number
  readonly metric: string
  readonly inch: string
}

const WORDED: Readonly<Record<string, (si: number, system: System) => string>> = {
  ratio: sayRatio,
  travel: (si, system) => sayTravel(si * 1000, system),
  length: (si, system) => sayLength(si * 1000, system),
  force: sayForce,
  moment: sayMoment,
  stiffness: (si, system) => sayStiffness(si / 1000, system),
  angle: (si) => sayAngle((si * 180) / Math.PI),
}

describe.each(Object.entries(WORDED))('the page words a %s as the program does', (kind, say) => {
  test.each((said as Readonly<Record<string, readonly Case[]>>)[kind] ?? [])('$value: $metric', ({ value, metric, inch }) => {
    expect(say(value, 'metric')).toBe(metric)
    expect(say(value, 'inch')).toBe(inch)
  })
})

test('a twist is said in degrees for the wheel, never as a coil', () => {
  expect(sayTwist(0.43, 'metric')).toBe('0.43 deg/mm')
  expect(sayTwist(0.43, 'inch')).toBe('10.9 deg/in')
})
