/** The widths in which a photograph is kept for pages; the file as it was sent is kept beside them. */
export const SIZES = [480, 1280, 2400] as const
export type Size = (typeof SIZES)[number]

export interface SizedPhoto {
  readonly size: Size
  readonly width: number
  readonly height: number
}

/**
 * The sizes that a photograph is kept in: none is larger than it is, and the last one shows all there is (up to 2400 px
 * wide, and twice as high as wide: bands are photographed upright too).
 * @example listSizes({ width: 600, height: 400 }) // 480 × 320, and as "1280" the whole 600 × 400
 */
export function listSizes(photo: {
  readonly width: number
  readonly height: number
}): readonly [SizedPhoto, ...SizedPhoto[]] {
  const sized = SIZES.map((size) => toSize(photo, size))
  const whole = sized.findIndex(({ width, height }) => width === photo.width && height === photo.height)
  const [first = toSize(photo, 480), ...rest] = whole < 0 ? sized : sized.slice(0, whole + 1)
  return [first, ...rest]
}

function toSize({ width, height }: { readonly width: number; readonly height: number }, size: Size): SizedPhoto {
  const scale = Math.min(1, size / width, (2 * size) / height)
  return { size, width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) }
}
