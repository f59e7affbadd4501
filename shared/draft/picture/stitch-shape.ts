/** Units of a picture's inner drawing per pick; the width of a cord follows from the true proportions. */
export const PICK_UNITS = 60

/** What a cord does in one pick, as seen from the side that is drawn. */
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

/** One pick of a cord: what it does, and how its threads lie over the wefts below and above. */
export interface StitchShape {
  /** STRAIGHT, RISING "/", FALLING "\", and the half turns. */
  readonly kind: number
  readonly below: number
  readonly above: number
}

/** An outline in the cord's own units, x from its left edge, y upward from the weft below; a cubic a piece. */
interface Curve {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
  readonly x2: number
  readonly y2: number
  readonly x3: number
  readonly y3: number
}

const H = PICK_UNITS

// Where the seam between the two upper threads meets the weft, as a share of the cord's width. Where the cord turns
// back, tension pulls the long float straight and towards the middle; where it idles, the thread that shows is given
// the larger part. Our own, by eye.
const SEAM_AT = [0.5, 0.24, 0.76, 0.34, 0.66, 0.5] as const
const BOW = 0.95

/** The seams of a stitch, lowest and rightmost first; regions lie between them. */
function seams({ kind, below, above }: StitchShape, width: number): Curve[] {
  const low = SEAM_AT[below]! * width
  const high = SEAM_AT[above]! * width
  const lowIsVertical = below !== CROSSING
  const highIsVertical = above !== CROSSING
  if (kind === STRAIGHT) return [curve(low, 0, true, high, H, true, width)]
  if (kind === RISING) {
    const left = below === BOWED_LEFT ? (1 - BOW) * width : 0
    const right = above === BOWED_RIGHT ? BOW * width : width
    return [curve(low, 0, lowIsVertical, right, H, true, width), curve(left, 0, true, high, H, highIsVertical, width)]
  }
  return [
    curve(low, 0, lowIsVertical, width, H * 0.42, true, width),
    whole(0, 0, width, H * 0.66),
    curve(0, H * 0.5, true, high, H, highIsVertical, width),
  ]
}
