import { expect, test } from 'vitest'
import { roughly, withUnit } from '../src/typed'

test.each([
  ['1 3/4', 'length', 'inch', '1 3/4 in'],
  [' 45 ', 'length', 'metric', '45 mm'],
  ['1 3/4 ± 1/16', 'length', 'inch', '1 3/4 ± 1/16 in'],
  ['95', 'mass', 'inch', '95 lb'],
  ['125', 'stiffness', 'inch', '125 lbf/in'],
] as const)('a bare number %s is read in the units shown', (text, kind, system, said) => {
  expect(withUnit(text, kind, system)).toBe(said)
})

test.each(['45 mm', '2"', '', 'far', '?'])('what has a unit, or is no number, stays as typed: %s', (text) => {
  expect(withUnit(text, 'length', 'inch')).toBe(text)
})

test('a share has no unit', () => {
  expect(withUnit('0.8', 'ratio', 'inch')).toBe('0.8')
})

test.each([
  ['45 mm', 45],
  ['4,5 cm', 45],
  ['1 3/4 in', 44.45],
  ['3/16 in', 4.7625],
  ['2"', 50.8],
  ['3 1/2', 3.5],
  ['12 ± 1 mm', 12],
  ['far', 0],
] as const)('%s is drawn as %d mm', (text, lengthMm) => {
  expect(roughly(text)).toBeCloseTo(lengthMm, 9)
})
