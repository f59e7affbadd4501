/** Units of the inner drawing to a pick; the units of a cord's width follow from the true proportions. */
export const PICK_UNITS = 60

/** What a cord does in one pick, as seen from the side that is drawn: nothing, "/", "\", and the half turns. */
export const STRAIGHT = 0
export const RISING = 1
export const FALLING = 2
export const RISING_TWICE = 3
export const FALLING_TWICE = 4

/** How the two threads that lie over a weft share the cord's width there. */
export const CROSSING = 0
export const BOWED_RIGHT = 1
export const BOWED_LEFT = 2
export const STRAIGHT_RIGHT = 3
export const STRAIGHT_LEFT = 4
export const STRAIGHT_BOTH = 5

/** One pick of a cord: what it does, and how its threads lie over the weft below it and over the weft above it. */
export interface StitchShape {
  readonly kind: number
  readonly below: number
  readonly above: number
}

/** A cubic: x from the left edge of the cord, y upward from the weft below. */
type Curve = readonly [x0: number, y0: number, x1: number, y1: number, x2: number, y2: number, x3: number, y3: number]

const H = PICK_UNITS

/** A thread is drawn this far into the next pick, where it lies too, so that no line of ground shows between picks. */
export const OVERLAP = 9

// Where the seam between the two upper threads meets the weft, as a share of the cord's width. Where the cord turns
// back, tension pulls the long float straight and towards the middle; where it idles, the thread that shows is given
// the larger part. Our own, by eye.
const SEAM_AT = [0.5, 0.15, 0.85, 0.32, 0.68, 0.5] as const
const BOW = 0.96
const MIRRORED_WEFT = [CROSSING, BOWED_LEFT, BOWED_RIGHT, STRAIGHT_LEFT, STRAIGHT_RIGHT, STRAIGHT_BOTH] as const

/** Half of an S: upright where the thread comes round the edge of the cord, slanting where it crosses the middle. */
function half(x0: number, y0: number, upright0: boolean, x3: number, y3: number, upright3: boolean): Curve {
  const [dx, dy] = [x3 - x0, y3 - y0]
  const first = upright0 ? [x0 + dx * 0.1, y0 + dy * 0.36] : [x0 + dx * 0.5, y0 + dy * 0.33]
  const second = upright3 ? [x3 - dx * 0.1, y3 - dy * 0.36] : [x3 - dx * 0.5, y3 - dy * 0.33]
  return [x0, y0, first[0]!, first[1]!, second[0]!, second[1]!, x3, y3]
}

/** The seams between the threads seen in a stitch that rises or idles, from the lower right to the upper left. */
function seamsOf({ kind, below, above }: StitchShape, width: number): Curve[] {
  const low = SEAM_AT[below]! * width
  const high = SEAM_AT[above]! * width
  const [lowUpright, highUpright] = [below !== CROSSING, above !== CROSSING]
  if (kind === STRAIGHT) return [half(low, 0, true, high, H, true)]
  if (kind === RISING) {
    const left = below === BOWED_LEFT ? (1 - BOW) * width : 0
    const right = above === BOWED_RIGHT ? BOW * width : width
    return [half(low, 0, lowUpright, right, H, true), half(left, 0, true, high, H, highUpright)]
  }
  return [
    half(low, 0, lowUpright, width, H * 0.4, true),
    half(0, 0, true, width, H * 0.7, true),
    half(0, H * 0.5, true, high, H, highUpright),
  ]
}

/** Whether a stitch leans like a backslash: its outlines are those of a rising one, seen in a mirror. */
export const isMirrored = ({ kind }: StitchShape) => kind === FALLING || kind === FALLING_TWICE

function rising(shape: StitchShape): { shape: StitchShape; mirrored: boolean } {
  const { kind, below, above } = shape
  if (!isMirrored(shape)) return { shape, mirrored: false }
  return {
    shape: { kind: kind - 1, below: MIRRORED_WEFT[below]!, above: MIRRORED_WEFT[above]! },
    mirrored: true,
  }
}

/** Places points in the drawing: `at` units up, mirrored if need be, in whole units. */
function placer(at: number, width: number, mirrored: boolean) {
  const placeX = (x: number) => Math.round(mirrored ? width - x : x)
  const placeY = (y: number) => Math.round(y + at)
  // Relative to where the pen is, and without a space before a minus: a third shorter.
  const cubic = (...xy: Curve) => {
    const [x0, y0] = [placeX(xy[0]), placeY(xy[1])]
    return (
      'c' +
      xy
        .slice(2)
        .map((value, i) => (i % 2 === 0 ? placeX(value) - x0 : placeY(value) - y0))
        .join(' ')
        .replaceAll(' -', '-')
    )
  }
  const point = (x: number, y: number) => `${placeX(x)} ${placeY(y)}`
  return {
    point,
    start: (c: Curve) => point(c[0], c[1]),
    end: (c: Curve) => point(c[6], c[7]),
    along: (c: Curve) => cubic(...c),
    back: (c: Curve) => cubic(c[6], c[7], c[4], c[5], c[2], c[3], c[0], c[1]),
  }
}

/**
 * The outlines of the threads seen in one stitch. Of a rising quarter turn: the thread that leaves at the lower right,
 * the one that shows, the one that comes up at the upper left. A half turn has one more after the first; an idle tablet
 * has the right and the left thread. Falling stitches are the mirror. Outlines reach a little into the picks below and
 * above wherever the same thread lies there.
 * @param at units above the ground line at which the stitch stands
 * @param width of the cord, in the same units
 * @returns one closed path each, as the `d` of an SVG path
 * @example threadOutlines({ kind: STRAIGHT, below: STRAIGHT_BOTH, above: STRAIGHT_BOTH }, 0, 60).length // 2
 * Source: our own; half of a sine wave, as a helix is seen from the side, drawn with cubics.
 */
export function threadOutlines(stitch: StitchShape, at: number, width: number): string[] {
  const { shape, mirrored } = rising(stitch)
  const { point, start, end, along, back } = placer(at, width, mirrored)
  const seams = seamsOf(shape, width)
  const [first, last] = [seams[0]!, seams.at(-1)!]
  const up = shape.kind === STRAIGHT ? `L${point(width, H + OVERLAP)}L${point(first[6], H + OVERLAP)}` : ''
  const down = shape.kind === STRAIGHT ? `L${point(0, -OVERLAP)}L${point(last[0], -OVERLAP)}` : ''
  // All run the same way round, so that two of one colour can overlap in one path without cutting each other out.
  const outlines = [`M${point(first[0], -OVERLAP)}L${point(width, -OVERLAP)}${up}L${end(first)}${back(first)}Z`]
  for (let at = 1; at < seams.length; at++) {
    const [right, left] = [seams[at - 1]!, seams[at]!]
    const corner = right[7] < H && left[7] === H ? `L${point(width, H)}` : ''
    outlines.push(`M${start(right)}${along(right)}${corner}L${end(left)}${back(left)}Z`)
  }
  outlines.push(`M${start(last)}${along(last)}L${point(last[6], H + OVERLAP)}L${point(0, H + OVERLAP)}${down}Z`)
  return outlines
}

/** The seams between the threads of one stitch, as the `d` of an open path; arguments as for `threadOutlines`. */
export function seamPath(stitch: StitchShape, at: number, width: number): string {
  const { shape, mirrored } = rising(stitch)
  const { start, along } = placer(at, width, mirrored)
  return seamsOf(shape, width)
    .map((curve) => `M${start(curve)}${along(curve)}`)
    .join('')
}

/**
 * Where the light lies on the thread that shows: a lens along its ridge, open-ended where the float runs on.
 * @param breadth of the lens as a share of the cord's width
 * @returns a closed path, as the `d` of an SVG path; other arguments as for `threadOutlines`
 */
export function ridgePath(stitch: StitchShape, at: number, width: number, breadth: number): string {
  const { shape, mirrored } = rising(stitch)
  const { point, along } = placer(at, width, mirrored)
  const { kind, below, above } = shape
  const lens = (x0: number, y0: number, d0: number, x1: number, y1: number, d1: number) => {
    const [cx0, cy0] = d0 > 0 ? [x0, y0 + 0.33] : [x0 + (x1 - x0) * 0.36, y0 + (y1 - y0) * 0.28]
    const [cx1, cy1] = d1 > 0 ? [x1, y1 - 0.33] : [x1 - (x1 - x0) * 0.36, y1 - (y1 - y0) * 0.28]
    const [w, h] = [width, H]
    const up: Curve = [
      (x0 - d0) * w,
      y0 * h,
      (cx0 - breadth) * w,
      cy0 * h,
      (cx1 - breadth) * w,
      cy1 * h,
      (x1 - d1) * w,
      y1 * h,
    ]
    const down: Curve = [
      (x1 + d1) * w,
      y1 * h,
      (cx1 + breadth) * w,
      cy1 * h,
      (cx0 + breadth) * w,
      cy0 * h,
      (x0 + d0) * w,
      y0 * h,
    ]
    return `M${point(up[0], up[1])}${along(up)}${d1 > 0 ? `L${point(down[0], down[1])}` : ''}${along(down)}Z`
  }
  const full = breadth * 0.8
  if (kind === STRAIGHT) {
    if (above === STRAIGHT_BOTH) return lens(0.25, 0, full, 0.25, 1, full) + lens(0.75, 0, full, 0.75, 1, full)
    const x = above === STRAIGHT_RIGHT ? 0.67 : 0.33
    return lens(x, 0, full, x, 1, full)
  }
  if (kind === RISING_TWICE) return lens(0.25, 0.38, 0, 0.85, 0.86, 0)
  const from = below === BOWED_LEFT ? [0.46, 0, full] : below === STRAIGHT_LEFT ? [0.33, 0, full] : [0.16, 0.06, 0]
  const to = above === BOWED_RIGHT ? [0.54, 1, full] : above === STRAIGHT_RIGHT ? [0.67, 1, full] : [0.84, 0.94, 0]
  return lens(from[0]!, from[1]!, from[2]!, to[0]!, to[1]!, to[2]!)
}
