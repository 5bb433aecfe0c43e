import { describe, expect, it } from 'vitest'
import { allAt, asAt, FINGER, inside, stepped, under } from '../src/photo/marks'

const SIZE = [4000, 3000] as const
const FRAME = { left: 10, top: 20, width: 400, height: 300 }

describe('a place in a picture', () => {
  it('is what lies under the pointer, in pixels of the picture', () => {
    expect(under(FRAME, SIZE, { x: 110, y: 170, finger: false })).toEqual([1000, 1500])
  })
  it('of a finger is above it, where it can be seen', () => {
    expect(under(FRAME, SIZE, { x: 110, y: 170 + FINGER, finger: true })).toEqual([1000, 1500])
  })
  it('stays in the picture, to a tenth of a pixel', () => {
    expect(inside(SIZE, [-5, 3001])).toEqual([0, 3000])
    expect(inside(SIZE, [1.26, 2.34])).toEqual([1.3, 2.3])
  })
  it('is moved by arrow keys alone', () => {
    expect(stepped(SIZE, [10, 10], 'ArrowUp', 10)).toEqual([10, 0])
    expect(stepped(SIZE, [10, 10], 'ArrowRight', 1)).toEqual([11, 10])
    expect(stepped(SIZE, [10, 10], 'a', 1)).toBeNull()
  })
  it('is read from the file only where it is one', () => {
    expect(asAt([1, 2])).toEqual([1, 2])
    expect([asAt([1]), asAt(['1', 2]), asAt(null), asAt([1, 2, 3])]).toEqual([null, null, null, null])
    expect(allAt([[1, 2], 'x', [3, 4]])).toEqual([[1, 2], [3, 4]])
    expect(allAt(7)).toEqual([])
  })
})
