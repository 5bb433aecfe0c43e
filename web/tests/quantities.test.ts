import { expect, test } from 'vitest'
import { shownIn, writtenFor } from '../src/quantities'

test.each([
  [317.5, 'length', 'inch', '12 1/2', 'in', '317.5 mm'],
  [312, 'length', 'metric', '312', 'mm', null],
  [312, 'length', 'inch', '12.283', 'in', '312 mm'],
  ['12 1/2 in', 'length', 'metric', '317.5', 'mm', '12 1/2 in'],
  ['12 1/2 in', 'length', 'inch', '12 1/2', 'in', null],
  ['312 ± 1 mm', 'length', 'metric', '312 ± 1', 'mm', null],
  ['312 ± 1 mm', 'length', 'inch', '12.283 ± 0.039', 'in', '312 ± 1 mm'],
  [62, 'mass', 'inch', '136.69', 'lb', '62 kg'],
  ['95 lbf/in ± 10 %', 'stiffness', 'metric', '16.637 ± 10 %', 'N/mm', '95 lbf/in ± 10 %'],
  ['95 lbf/in ± 10 %', 'stiffness', 'inch', '95 ± 10 %', 'lbf/in', null],
  [-25.4, 'length', 'inch', '-1', 'in', '-25.4 mm'],
  ['far away', 'length', 'inch', 'far away', null, null],
  ['22,5', 'stiffness', 'metric', '22,5', null, null],
  [undefined, 'length', 'inch', '', 'in', null],
  [1.7, 'frequency', 'inch', '1.7', null, null],
] as const)('%s (%s, %s) is shown as %s', (...[value, kind, system, text, ...rest]) => {
  expect(shownIn(value, kind, system)).toEqual({ text, unit: rest[0], file: rest[1] })
})

test.each([
  ['12 1/2', 'length', 'inch', 312, 317.5],
  ['12 1/2', 'length', 'inch', undefined, '12 1/2 in'],
  ['12 1/2', 'length', 'inch', '11 in', '12 1/2 in'],
  ['320', 'length', 'metric', '11 in', '12.598425 in'],
  ['320', 'length', 'metric', 312, 320],
  ['320', 'length', 'metric', '312 mm', '320 mm'],
  ['21 1/2 in', 'length', 'metric', 312, '21 1/2 in'],
  ['12 ± 1/16', 'length', 'inch', 312, '304.8 ± 1.59 mm'],
  ['95', 'mass', 'inch', 42, 43.091275],
  ['125', 'stiffness', 'inch', 22, 21.890854],
  ['22,5', 'stiffness', 'metric', 22, '22,5'],
  ['a bit', 'length', 'inch', 312, 'a bit'],
  ['', 'length', 'inch', 312, ''],
] as const)('typed %s (%s, %s) over %s is written as %s', (text, kind, system, before, written) => {
  expect(writtenFor(text, kind, system, before)).toBe(written)
})
