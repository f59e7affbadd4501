import { requireNotNegative, requirePositive } from '../measure/argument.ts'
import { type Corners, homographyOf, inverseOf, lengthsInPicture, type Point, project } from './homography.ts'

/** A known length in the plane of the band: the ends of a scale bar, or two marks of a ruler. */
export interface ScaleBar {
  readonly from: Point
  readonly to: Point
  readonly lengthMm: number
  /** The bar is as long as it says give or take so much, anything within being equally likely. */
  readonly toleranceMm: number
}

/** One reason for uncertainty, as a standard uncertainty of the length and of the width, in mm. */
export interface Component {
  readonly name: 'corners' | 'barEnds' | 'barLength' | 'view'
  readonly uLengthMm: number
  readonly uWidthMm: number
}

/** Lengths of the marked stretch of band, in the plane of its four corners. */
export interface StretchSize {
  readonly lengthMm: number
  readonly uLengthMm: number
  readonly widthMm: number
  readonly uWidthMm: number
  readonly components: readonly Component[]
  /** Whether the proportions of the plane are known from two bars, or taken from the sides as the picture shows them. */
  readonly proportions: 'measured' | 'assumed'
}

/**
 * How long and wide the marked stretch is. Valid only in the plane that the corners span: a bar that lies nearer to the
 * camera than the band makes the band too small. With one bar the band is taken to be as long for its width as the
 * sides of the four corners are in the picture, which holds for a camera that looks square at it; how far opposite
 * sides differ goes into the uncertainty, a tilt that shortens both alike cannot be seen. With two bars at an angle the
 * plane's proportions follow from them.
 * @param corners of the stretch in pixels
 * @param bars one or two, in pixels of the same picture
 * @param placingPx standard uncertainty of every marked point, each way, in pixels
 * @returns mm, with standard uncertainties: each point and each bar is moved by its own uncertainty and the lengths
 *   worked out again, and the differences are added as squares
 * @throws RangeError when there is no bar or more than two, a length is not above zero, a bar has no length in the
 *   picture, or two bars lie nearly the same way
 * @example stretchSize(corners, [{ from, to, lengthMm: 50, toleranceMm: 0.5 }], 1).lengthMm // 83.2
 * Source: JCGM 100:2008, 5.1 (propagation, sensitivities by differences as in 5.1.3 note 2) and 4.3.7 (rectangular).
 */
export function stretchSize(corners: Corners, bars: readonly ScaleBar[], placingPx: number): StretchSize {
  requireNotNegative('placingPx', placingPx)
  if (bars.length < 1 || bars.length > 2) throw new RangeError(`bars must be one or two, not ${bars.length}`)
  for (const bar of bars) {
    requirePositive('lengthMm', bar.lengthMm)
    requireNotNegative('toleranceMm', bar.toleranceMm)
  }
  const size = sizeOf(corners, bars)
  const moved = movedInputs(corners, bars, placingPx)
  const component = (name: Component['name'], sizes: readonly Size[]): Component => ({
    name,
    uLengthMm: Math.hypot(...sizes.map(({ lengthMm }) => lengthMm - size.lengthMm)),
    uWidthMm: Math.hypot(...sizes.map(({ widthMm }) => widthMm - size.widthMm)),
  })
  const components = [
    component(
      'corners',
      moved.corners.map((one) => sizeOf(one, bars)),
    ),
    component(
      'barEnds',
      moved.barEnds.map((one) => sizeOf(corners, one)),
    ),
    component(
      'barLength',
      moved.barLengths.map((one) => sizeOf(corners, one)),
    ),
    ...(bars.length === 1 ? [viewComponent(corners, size)] : []),
  ]
  return {
    ...size,
    uLengthMm: Math.hypot(...components.map(({ uLengthMm }) => uLengthMm)),
    uWidthMm: Math.hypot(...components.map(({ uWidthMm }) => uWidthMm)),
    components,
    proportions: bars.length === 1 ? 'assumed' : 'measured',
  }
}

interface Size {
  readonly lengthMm: number
  readonly widthMm: number
}

/** Bars in widths and lengths of the stretch, then (across x width)² + (along x length)² = bar². */
function sizeOf(corners: Corners, bars: readonly ScaleBar[]): Size {
  const back = inverseOf(homographyOf(corners))
  const [one, other] = bars.map(({ from, to, lengthMm }) => {
    const [a, b] = [project(back, from.x, from.y), project(back, to.x, to.y)]
    return { across: (b.x - a.x) ** 2, along: (b.y - a.y) ** 2, square: lengthMm ** 2 }
  })
  if (one === undefined || !(one.across + one.along > 0)) throw new RangeError('bars must have a length in the picture')
  if (other === undefined) {
    const { length, width } = lengthsInPicture(corners)
    const widthMm = Math.sqrt(one.square / (one.across + one.along * (length / width) ** 2))
    return { widthMm, lengthMm: (widthMm * length) / width }
  }
  const determinant = one.across * other.along - one.along * other.across
  const width = (one.square * other.along - other.square * one.along) / determinant
  const length = (one.across * other.square - other.across * one.square) / determinant
  if (!(width > 0 && length > 0 && Number.isFinite(width + length))) {
    throw new RangeError('bars must lie at an angle to each other, such as one along the band and one across')
  }
  return { widthMm: Math.sqrt(width), lengthMm: Math.sqrt(length) }
}

const CORNERS = ['startLeft', 'startRight', 'endRight', 'endLeft'] as const

function movedInputs(corners: Corners, bars: readonly ScaleBar[], px: number) {
  const shift = (point: Point) => [
    { x: point.x + px, y: point.y },
    { x: point.x, y: point.y + px },
  ]
  const withBar = (at: number, bar: ScaleBar) => bars.map((one, i) => (i === at ? bar : one))
  return {
    corners: CORNERS.flatMap((name) => shift(corners[name]).map((point): Corners => ({ ...corners, [name]: point }))),
    barEnds: bars.flatMap((bar, at) =>
      (['from', 'to'] as const).flatMap((end) => shift(bar[end]).map((point) => withBar(at, { ...bar, [end]: point }))),
    ),
    barLengths: bars.map((bar, at) => withBar(at, { ...bar, lengthMm: bar.lengthMm + bar.toleranceMm / Math.sqrt(3) })),
  }
}

/** Opposite sides that differ show that the camera did not look square at the band: half the difference, rectangular. */
function viewComponent(corners: Corners, { lengthMm, widthMm }: Size): Component {
  const { lengths, widths } = lengthsInPicture(corners)
  const half = ([a, b]: readonly [number, number]) => Math.abs(a - b) / (a + b)
  const share = Math.max(half(lengths), half(widths)) / Math.sqrt(3)
  return { name: 'view', uLengthMm: lengthMm * share, uWidthMm: widthMm * share }
}
