import { expect, test } from 'vitest'
import { pressed, taken } from '../src/measure/keys'

const typed = (...keys: readonly string[]): string => keys.reduce(pressed, '')

test.each([
  [['1', '2'], '12'],
  [['0', '5'], '5'],
  [['.', '5'], '0.5'],
  [['4', '.', '.', '5'], '4.5'],
  [['1', '2', '1/2'], '12 1/2'],
  [['1/2', '1/4'], '3/4'],
  [['1', '2', '1/4', '1/8', '1/32'], '12 13/32'],
  [['1/2', '1/2'], '1/2'], // an inch is no fraction of one
  [['3', '1/16', '7'], '3 1/16'],
  [['4', '.', '5', '1/2'], '4.5'],
] as const)('keys %s say %s', (keys, said) => {
  expect(typed(...keys)).toBe(said)
})

test.each([
  ['12 1/2', '12'],
  ['1/2', ''],
  ['4.5', '4.'],
  ['', ''],
] as const)('the last of %s taken away leaves %s', (text, left) => {
  expect(taken(text)).toBe(left)
})
