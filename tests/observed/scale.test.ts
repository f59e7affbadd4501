import { describe, expect, test } from 'vitest'
import { type Corners, homographyOf, type Point, project } from '../../shared/observed/homography.ts'
import { seeded } from './photograph.ts'
import { type ScaleBar, stretchSize } from '../../shared/observed/scale.ts'

/** 100 px wide, 400 px long. */
const CORNERS: Corners = {
  startLeft: { x: 50, y: 450 },
  startRight: { x: 150, y: 450 },
  endRight: { x: 150, y: 50 },
  endLeft: { x: 50, y: 50 },
}
const bar = (x0: number, y0: number, x1: number, y1: number, lengthMm: number, toleranceMm = 0): ScaleBar => ({
  from: { x: x0, y: y0 },
  to: { x: x1, y: y1 },
  lengthMm,
  toleranceMm,
})

describe('stretchSize(corners, bars, placingPx)', () => {
  test('by one bar, by hand: 200 px are 50 mm, so 400 px are 100 mm', () => {
    const size = stretchSize(CORNERS, [bar(200, 50, 200, 250, 50)], 0)
    expect([size.lengthMm, size.widthMm, size.proportions]).toEqual([
      expect.closeTo(100, 9),
      expect.closeTo(25, 9),
      'assumed',
    ])
    expect(size.uLengthMm).toBeCloseTo(0, 9)
  })

  // By hand: the length is 400 px x 50 mm / 200 px. Ends of the bar: each 1 px along it, √2 px of 200, so 100 x √2 / 200
  // = 0.7071 mm. Tolerance 0.5 mm, rectangular: 0.5 / √3 of 50 mm, so 0.5774 mm.
  test('says where its uncertainty comes from, by hand', () => {
    const size = stretchSize(CORNERS, [bar(200, 50, 200, 250, 50, 0.5)], 1)
    const of = Object.fromEntries(size.components.map(({ name, uLengthMm }) => [name, uLengthMm]))
    expect(of.barEnds).toBeCloseTo(0.7071, 2)
    expect(of.barLength).toBeCloseTo(0.5774, 3)
    expect(of.view).toBe(0)
    expect(size.uLengthMm).toBeCloseTo(Math.hypot(of.corners!, of.barEnds!, of.barLength!), 9)
  })

  // The same question asked another way, after JCGM 101:2008 (propagation of distributions): draw, work out, look at the scatter.
  test('agrees with the scatter of 4,000 sets of points drawn about the marked ones', () => {
    const chance = seeded(5)
    const bell = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())
    const near = ({ x, y }: Point): Point => ({ x: x + bell(), y: y + bell() })
    const bars = [bar(180, 60, 182, 440, 95, 0.3), bar(45, 470, 155, 472, 27, 0.3)]
    const drawn = Array.from({ length: 4000 }, () =>
      stretchSize(
        {
          startLeft: near(CORNERS.startLeft),
          startRight: near(CORNERS.startRight),
          endRight: near(CORNERS.endRight),
          endLeft: near(CORNERS.endLeft),
        },
        bars.map((one) => ({
          ...one,
          from: near(one.from),
          to: near(one.to),
          lengthMm: one.lengthMm + (2 * chance() - 1) * one.toleranceMm,
        })),
        0,
      ),
    )
    const scatter = (values: number[]) => {
      const mean = values.reduce((sum, one) => sum + one, 0) / values.length
      return Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (values.length - 1))
    }
    const size = stretchSize(CORNERS, bars, 1)
    expect(size.uLengthMm / scatter(drawn.map(({ lengthMm }) => lengthMm))).toBeCloseTo(1, 1)
    expect(size.uWidthMm / scatter(drawn.map(({ widthMm }) => widthMm))).toBeCloseTo(1, 1)
  })

  test('by two bars finds the true proportions of a tilted plane, where one bar cannot', () => {
    // A band of 20 x 60 mm seen from aside: 30 mm along and 10 mm across are laid down in the same perspective.
    const corners: Corners = {
      startLeft: { x: 100, y: 500 },
      startRight: { x: 190, y: 520 },
      endRight: { x: 170, y: 130 },
      endLeft: { x: 95, y: 150 },
    }
    const h = homographyOf(corners)
    const laid = (u0: number, v0: number, u1: number, v1: number, lengthMm: number): ScaleBar => ({
      from: project(h, u0, v0),
      to: project(h, u1, v1),
      lengthMm,
      toleranceMm: 0,
    })
    const [along, across] = [laid(1.3, 0.2, 1.3, 0.7, 30), laid(0.2, 1.05, 0.7, 1.05, 10)]
    const two = stretchSize(corners, [along, across], 0)
    expect([two.lengthMm, two.widthMm, two.proportions]).toEqual([
      expect.closeTo(60, 6),
      expect.closeTo(20, 6),
      'measured',
    ])
    const one = stretchSize(corners, [along], 0)
    expect(one.lengthMm).toBeCloseTo(60, 6)
    expect(Math.abs(one.widthMm - 20)).toBeGreaterThan(3)
    expect(one.components.find(({ name }) => name === 'view')!.uWidthMm).toBeGreaterThan(0)
  })

  test.each([
    ['no bar', []],
    ['three bars', [bar(0, 0, 9, 0, 1), bar(0, 0, 0, 9, 1), bar(0, 0, 9, 9, 1)]],
    ['a bar of no length', [bar(5, 5, 5, 5, 10)]],
    ['a length of zero', [bar(0, 0, 9, 0, 0)]],
    ['two bars that lie the same way', [bar(0, 0, 100, 0, 10), bar(0, 20, 100, 20, 10)]],
  ])('refuses %s', (_, bars) => expect(() => stretchSize(CORNERS, bars, 1)).toThrow(RangeError))
})
