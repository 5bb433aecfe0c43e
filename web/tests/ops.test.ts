import { describe, expect, test } from 'vitest'
import { addPoint, deletePart, freeName, movePart, movePoint, setPoint } from '../src/ops'
import { readList, sayList } from '../src/parts/lists'
import { asTyped } from '../src/typed'
import type { Drawing } from '../src/wire'

const values = {
  points: { 'a-left': [1, 2, 3], 'b-left': { at: [4, 5, '12 1/2 in'], error: 1 }, 'c-right': [7, -8, 9] },
  bodies: { chassis: ['a-left'], rocker: ['a-left', 'b-left'] },
  bars: { link: { ends: ['b-left', 'c-left'] } },
  springs: { spring: { ends: ['x', 'y'], shock: 's' } },
}
const point = (at: [number, number, number], twin_of: string | null = null) => ({ at, bodies: [], twin_of, error_mm: null, alone: false })
const drawing = {
  points: { 'a-left': point([1, 2, 3]), 'a-right': point([1, -2, 3], 'a-left'), 'b-left': point([4, 5, 317.5]), 'c-right': point([7, -8, 9], 'c-left') },
  bodies: { rocker: { points: ['a-left', 'b-left'], twin_of: null } },
} as unknown as Drawing

describe('a point moved by hand', () => {
  test('is set to half millimetres', () => {
    expect(movePoint(drawing, values, null, 'a-left', [10.26, 2, 3])).toEqual({ op: 'set', key: ['points', 'a-left'], value: [10.5, 2, 3] })
  })
  test('with keys of its own keeps them, and what did not move stays as typed', () => {
    expect(movePoint(drawing, values, null, 'b-left', [5, 5, 317.5])).toEqual({ op: 'set', key: ['points', 'b-left', 'at'], value: [5, 5, '12 1/2 in'] })
  })
  test('as a twin that is not written moves its original, mirrored', () => {
    expect(movePoint(drawing, values, null, 'a-right', [1, -20, 3])).toEqual({ op: 'set', key: ['points', 'a-left'], value: [1, 20, 3] })
  })
  test('as a twin that is written moves alone', () => {
    expect(movePoint(drawing, values, null, 'c-right', [7, -9, 9])).toMatchObject({ key: ['points', 'c-right'], value: [7, -9, 9] })
  })
  test('in a flat drawing has two numbers', () => {
    expect(movePoint(drawing, values, 'xz', 'a-left', [9, 0, 8])).toMatchObject({ value: [9, 8] })
  })
})

test('a body moved by a step moves every point it carries once', () => {
  const ops = movePart(drawing, values, null, { table: 'bodies', name: 'rocker', by: [0, 0, 10] })
  expect(ops).toEqual([setPoint(values, 'a-left', [1, 2, 13]), setPoint(values, 'b-left', [4, 5, 327.5])])
})

test('a deleted point leaves its bodies, and takes along what ended at it', () => {
  const { ops, also } = deletePart(values, 'points', 'b-left')
  expect(also).toEqual(['link'])
  expect(ops).toEqual([
    { op: 'delete', key: ['bars', 'link'] },
    { op: 'set', key: ['bodies', 'rocker'], value: ['a-left'] },
    { op: 'delete', key: ['points', 'b-left'] },
  ])
})

test('a new hole is a point that its body carries', () => {
  expect(addPoint(values, 'hole', [1, 2, 3], 'rocker')).toEqual([
    { op: 'add', key: ['points', 'hole'], value: [1, 2, 3] },
    { op: 'set', key: ['bodies', 'rocker'], value: ['a-left', 'b-left', 'hole'] },
  ])
})

test('a suggested name is free', () => {
  expect(freeName({ points: { 'point-1-left': [0, 0, 0] } }, 'points', 'point', true)).toBe('point-2-left')
})

test('only a plain decimal number goes as a number, all else as typed', () => {
  expect(['312', ' -4.5 ', '12 1/2 in', '1e9', '0x10', '', '1,5'].map(asTyped)).toEqual([312, -4.5, '12 1/2 in', '1e9', '0x10', '', '1,5'])
})

test('lists read as typed and are said again', () => {
  expect(readList('-10, 15')).toEqual([-10, 15])
  expect(readList('0, 84, 62; 20, 450, 410')).toEqual([[0, 84, 62], [20, 450, 410]])
  expect(sayList([[0, 84, 62], [20, 450, 410]])).toBe('0, 84, 62; 20, 450, 410')
  expect(readList(sayList([[1, 2]]))).toEqual([[1, 2]])
})
