import { describe, expect, test } from 'vitest'
import { bandMap, type Bend, HANDLES_AT, shiftTo, STRAIGHT } from '../../shared/observed/band-map.ts'
import { type Corners, homographyOf, inverseOf, isMirroredView, project } from '../../shared/observed/homography.ts'

const corners = (...xy: [number, number, number, number, number, number, number, number]): Corners => ({
  startLeft: { x: xy[0], y: xy[1] },
  startRight: { x: xy[2], y: xy[3] },
  endRight: { x: xy[4], y: xy[5] },
  endLeft: { x: xy[6], y: xy[7] },
})
/** 40 wide and 120 long, start lowest: as the weaver sees it. */
const UPRIGHT = corners(10, 130, 50, 130, 50, 10, 10, 10)

describe('homographyOf(corners)', () => {
  test('of a rectangle is a stretch, by hand', () => {
    expect(homographyOf(corners(0, 0, 2, 0, 2, 3, 0, 3))).toEqual([2, 0, 0, 0, 3, 0, 0, 0, 1])
  })

  test('of a parallelogram is affine, by hand: x = 1 + 3u + v, y = 2 + u + 2v', () => {
    expect(homographyOf(corners(1, 2, 4, 3, 5, 5, 2, 4))).toEqual([3, 1, 1, 1, 2, 2, 0, 0, 1])
  })

  // By hand: 4 below, 2 above, 3 apart. x = (4u + v) / (v + 1), y = 6v / (v + 1); diagonals cross at 2, 2.
  test('of a trapezium, by hand: the middle of the square is where its diagonals cross', () => {
    const h = homographyOf(corners(0, 0, 4, 0, 3, 3, 1, 3))
    h.forEach((value, at) => expect(value).toBeCloseTo([4, 2, 0, 0, 6, 0, 0, 1, 1][at]!, 12))
    const { x, y } = project(h, 0.5, 0.5)
    expect([x, y]).toEqual([expect.closeTo(2, 12), expect.closeTo(2, 12)])
  })

  test('brings the corners of the square to the four corners, and its inverse brings them back', () => {
    const four = corners(12.5, 301, 188, 322, 171, 20, 40, 8.25)
    const h = homographyOf(four)
    const back = inverseOf(h)
    for (const [u, v, at] of [
      [0, 0, four.startLeft],
      [1, 0, four.startRight],
      [1, 1, four.endRight],
      [0, 1, four.endLeft],
    ] as const) {
      expect(project(h, u, v).x).toBeCloseTo(at.x, 9)
      expect(project(h, u, v).y).toBeCloseTo(at.y, 9)
      expect(project(back, at.x, at.y).x).toBeCloseTo(u, 9)
      expect(project(back, at.x, at.y).y).toBeCloseTo(v, 9)
    }
  })

  test.each([
    ['three corners on a line', corners(0, 0, 1, 0, 2, 0, 0, 3)],
    ['sides that cross', corners(0, 0, 2, 3, 2, 0, 0, 3)],
    ['a dent', corners(0, 0, 4, 0, 1, 1, 0, 4)],
    ['two corners in one place', corners(0, 0, 0, 0, 2, 2, 0, 2)],
    ['no number', corners(0, 0, 2, 0, 2, Number.NaN, 0, 3)],
  ])('refuses %s', (_, four) => expect(() => homographyOf(four)).toThrow(RangeError))

  test('inverseOf(h) refuses what has no inverse', () => {
    expect(() => inverseOf([1, 0, 0, 0, 0, 0, 0, 0, 1])).toThrow(RangeError)
  })
})

test('isMirroredView(corners) is true only where left and right are exchanged', () => {
  expect(isMirroredView(UPRIGHT)).toBe(false)
  expect(isMirroredView(corners(10, 10, 10, 50, 130, 50, 130, 10))).toBe(false)
  expect(isMirroredView(corners(50, 130, 10, 130, 10, 10, 50, 10))).toBe(true)
})

describe('bandMap(marks)', () => {
  const marks = (bend: Bend) => ({ corners: UPRIGHT, bend, tablets: 4, picks: 12 })

  test('of a straight band lies evenly between the corners', () => {
    const { toPicture, lengthInWidths } = bandMap(marks(STRAIGHT))
    expect(lengthInWidths).toBe(3)
    expect(toPicture(0.25, 0.5)).toEqual({ x: 20, y: 70 })
  })

  test('passes through the handles where they were put, and leaves the ends where they are', () => {
    const bend: Bend = [
      { across: 0.3, along: 0.02 },
      { across: 0.4, along: -0.01 },
      { across: 0.2, along: 0 },
    ]
    const { toPicture } = bandMap(marks(bend))
    HANDLES_AT.forEach((v, i) => {
      expect(toPicture(0.5, v).x).toBeCloseTo(30 + 40 * bend[i]!.across, 9)
      expect(toPicture(0.5, v).y).toBeCloseTo(130 - 120 * (v + bend[i]!.along), 9)
    })
    expect(toPicture(0, 0)).toEqual({ x: 10, y: 130 })
    expect(toPicture(1, 1)).toEqual({ x: 50, y: 10 })
  })

  test('lays picks square to the mid-line of a wave, and parallel to the ends in a bow', () => {
    const wave = bandMap(
      marks([
        { across: 0.2, along: 0 },
        { across: 0, along: 0 },
        { across: -0.2, along: 0 },
      ]),
    )
    const [left, right, before, after] = [
      wave.toPicture(0, 0.5),
      wave.toPicture(1, 0.5),
      wave.toPicture(0.5, 0.49),
      wave.toPicture(0.5, 0.51),
    ]
    const ends = { x: wave.toPicture(0.5, 0.01).x - wave.toPicture(0.5, 0).x, y: 120 * -0.01 }
    const lean = (after.x - before.x) / (after.y - before.y) - ends.x / ends.y
    expect((right.y - left.y) / (right.x - left.x)).toBeCloseTo(-lean, 1)
    const bow = bandMap(
      marks([
        { across: 0.15, along: 0 },
        { across: 0.2, along: 0 },
        { across: 0.15, along: 0 },
      ]),
    )
    for (const v of [0.1, 0.5, 0.8]) expect(bow.toPicture(0, v).y).toBeCloseTo(bow.toPicture(1, v).y, 9)
  })

  test('shiftTo(corners, handle, place) says what brings the handle there', () => {
    expect(shiftTo(UPRIGHT, 1, { x: 38, y: 58 })).toEqual({
      across: expect.closeTo(0.2, 9),
      along: expect.closeTo(0.1, 9),
    })
  })

  test('refuses handles moved past each other, and no tablets', () => {
    const past: Bend = [
      { across: 0, along: 0.4 },
      { across: 0, along: -0.3 },
      { across: 0, along: 0 },
    ]
    expect(() => bandMap(marks(past))).toThrow(RangeError)
    expect(() => bandMap({ ...marks(STRAIGHT), tablets: 0 })).toThrow(RangeError)
  })
})
