import { describe, expect, test } from 'vitest'
import { inside } from '../src/geometry/hit'
import { cornersOf, outgrown } from '../src/geometry/extent'
import { armsOf } from '../src/geometry/parts'
import { curve, scaleFor, usual } from '../src/geometry/plot'
import { driveRange, inColumn, placeAt, posed, slotOf } from '../src/geometry/pose'
import { coil, hull, strapLine } from '../src/geometry/shapes'
import { px } from '../src/geometry/units'
import { eyeDir, fitted, flatten, movedInView, offSheet, onSheet, rightDir, sheetTransform, STRAIGHT, upDir } from '../src/geometry/view'
import { cross, dot, type Flat, type Place } from '../src/geometry/space'
import type { Drawing, Sweep } from '../src/wire'

const NOWHERE: Drawing = { points: {}, bodies: {}, bars: {}, springs: {}, straps: {}, held: {}, wheels: {}, shocks: {} }
const point = (at: Place, bodies: string[] = []) => ({ at, bodies, twin_of: null, error_mm: null, alone: false })

describe('a straight view shows the axes that its name says', () => {
  test.each([
    ['side', [1, 0, 0], [0, 0, 1]],
    ['front', [0, 1, 0], [0, 0, 1]],
    ['above', [1, 0, 0], [0, 1, 0]],
  ] as const)('%s', (name, right, up) => {
    const view = STRAIGHT[name]
    rightDir(view).forEach((value, axis) => expect(value).toBeCloseTo(right[axis] ?? 0, 12))
    upDir(view).forEach((value, axis) => expect(value).toBeCloseTo(up[axis] ?? 0, 12))
  })
})

test('right, up and the way to the eye are square and right-handed in any turn', () => {
  for (const view of [{ yaw: 0.6, pitch: 0.42 }, { yaw: -2.1, pitch: 1.3 }]) {
    const [right, up, eye] = [rightDir(view), upDir(view), eyeDir(view)]
    expect(dot(right, up)).toBeCloseTo(0, 12)
    cross(right, up).forEach((value, axis) => expect(value).toBeCloseTo(eye[axis] ?? 0, 12))
  }
})

test('a step in the view changes nothing in its depth', () => {
  const moved = movedInView(STRAIGHT.side, [10, 20, 30], [3, -4])
  expect(moved).toEqual([13, 20, 26])
})

test('the sheet holds what it was fitted to, and a place on it leads back', () => {
  const sheet = fitted([[0, 0], [400, 100]], px(800), px(400), px(50))
  expect(sheet.pxPerMm).toBeCloseTo(1.75, 12) // 700 px for 400 mm
  const [x, y] = onSheet(sheet, [400, 100])
  expect([x, y]).toEqual([750, 112.5])
  expect(offSheet(sheet, x, y)).toEqual([400, 100])
  expect(sheetTransform(sheet)).toBe('translate(50.000 287.500) scale(1.750000 -1.750000)')
})

test('a front view shows the left side on the right, as for who stands before the vehicle', () => {
  const [u, v] = flatten(STRAIGHT.front, [5, 7, 9])
  expect(u).toBeCloseTo(7, 12)
  expect(v).toBeCloseTo(9, 12)
})

describe('poses', () => {
  const poses = [-20, -10, 0, 10, 20]
  test.each([
    [-10, 1, 0],
    [5, 2, 0.5],
    [20, 3, 1],
    [99, 3, 1],
    [-99, 0, 0],
  ])('travel %d lies after pose %d by %d', (drive, first, part) => {
    expect(slotOf(poses, drive)).toEqual({ first, part })
  })
  test('no pose, no slot; one pose holds', () => {
    expect(slotOf([], 3)).toBeNull()
    expect(slotOf([4], 3)).toEqual({ first: 0, part: 0 })
  })
  test('between two poses a value and a place lie between', () => {
    const slot = slotOf(poses, 5)
    expect(inColumn([0, 0, 100, 200, 0], slot)).toBe(150)
    expect(inColumn([0, 0, null, 200, 0], slot)).toBe(200)
    expect(inColumn([0, 0, 7, null, 0], { first: 2, part: 0.2 })).toBe(7)
    expect(placeAt([0, 0, 0, 0, 0, 0, 1, 2, 3, 3, 2, 1, 0, 0, 0], { first: 2, part: 0.5 })).toEqual([2, 2, 2])
    expect(placeAt([1, 2, 3], { first: 0, part: 0 })).toEqual([1, 2, 3])
  })
  const sweep = { mode: 'heave', left_out: [], assemblies: [{ drive_mm: [0, 10], points_mm: { hub: [0, 0, 0, 0, 0, 10], gone: [9, 9, 9, 9, 9, 9] } }] } as unknown as Sweep
  test('what the sweep moves is moved, the rest stays, what is not drawn stays away', () => {
    const drawing = { ...NOWHERE, points: { hub: point([0, 0, 0]), eye: point([1, 1, 1]) } }
    expect([...posed(drawing, sweep, 5)]).toEqual([['hub', [0, 0, 5]], ['eye', [1, 1, 1]]])
    expect(posed(drawing, sweep, null).get('hub')).toEqual([0, 0, 0])
  })
  test('the range is that of what moves', () => {
    expect(driveRange(sweep)).toEqual([0, 10])
    expect(driveRange({ ...sweep, assemblies: [] })).toBeNull()
  })
})

describe('outlines', () => {
  test('the hull of a square with a dot in it is the square', () => {
    const flats: Flat[] = [[0, 0], [2, 0], [1, 1], [2, 2], [0, 2]]
    expect(hull(flats)).toEqual([[0, 0], [2, 0], [2, 2], [0, 2]])
  })
  test('in and out of a triangle', () => {
    const triangle: Flat[] = [[0, 0], [10, 0], [0, 10]]
    expect(inside([2, 2], triangle)).toBe(true)
    expect(inside([8, 8], triangle)).toBe(false)
  })
  test('a coil begins and ends at its eyes; without a length there is none', () => {
    expect(coil([0, 0], [100, 0], 5, 40)).toMatch(/^M0 0L.*L100 0$/)
    expect(coil([1, 1], [1, 1], 5, 40)).toBe('')
  })
  test('a taut strap is straight', () => {
    expect(strapLine([0, 0], [100, 0], 90, 100)).toBe('M0 0Q50 0 100 0')
  })
  test('lever arms are measured square from the pivot line, 3-4-5', () => {
    const drawing: Drawing = {
      ...NOWHERE,
      points: { in: point([0, 0, 0], ['chassis', 'rocker']), out: point([0, 50, 0], ['chassis', 'rocker']), hole: point([30, 25, 40], ['rocker']) },
      bodies: { rocker: { points: ['in', 'out', 'hole'], twin_of: null } },
    }
    const places = new Map(Object.entries(drawing.points).map(([name, { at }]): [string, Place] => [name, at]))
    expect(armsOf(drawing, 'rocker', places)).toMatchObject([{ length: 50, from: [0, 25, 0], to: [30, 25, 40] }])
  })
})

describe('plots', () => {
  test('ticks are round and hold the values', () => {
    expect(scaleFor([-37, 52], 6, true)).toEqual({ least: -40, most: 60, ticks: [-40, -20, 0, 20, 40, 60] })
  })
  test('a rate that runs away at dead centre does not flatten the rest', () => {
    expect(usual([4, 5, 6, 5, -400000])).toEqual([4, 5, 6, 5])
    expect(usual([4, 5, 6])).toEqual([4, 5, 6])
  })
  test('a gap lifts the pen', () => {
    expect(curve([[0, 0], null, [1, 1], [2, 2]])).toBe('M0.0 0.0M1.0 1.0L2.0 2.0')
  })
})

describe('a sheet is fitted again when the vehicle has outgrown it', () => {
  const places = (most: Place): Place[] => [[0, 0, 0], most]
  test.each([
    ['not for a small step', [1030, 200, 500], false],
    ['not for a step inward', [900, 200, 400], false],
    ['when something is cut off', [1000, 200, 560], true],
    ['when it has become small', [700, 200, 500], true],
  ] as const)('%s', (_, most, again) => {
    expect(outgrown(places([1000, 200, 500]), places(most))).toBe(again)
  })
  test('the wheels count with their radius', () => {
    const wheel = { body: 'arm', centre: 'hub', axis: null, radius_mm: 200, load_kg: null, twin_of: null }
    const drawing = { ...NOWHERE, points: { hub: point([0, 0, 100]) }, wheels: { rear: wheel } } as unknown as Drawing
    expect(Math.min(...cornersOf(drawing).map(([, , z]) => z))).toBe(-100)
  })
})
