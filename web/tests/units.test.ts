import { expect, test } from 'vitest'
import { mm, px, toMm, toPx } from '../src/geometry/units'

test('10 mm at 2 px a millimetre are 20 px, and back', () => {
  expect(toPx(mm(10), 2)).toBe(20)
  expect(toMm(px(20), 2)).toBe(10)
})
