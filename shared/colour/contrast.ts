import { readHex, toLinear } from './hex.ts'

/**
 * Relative luminance: 0 for black, 1 for white.
 * @param hex `#rrggbb`
 * @throws RangeError when hex is malformed
 * @example relativeLuminance('#ffffff') // 1
 * Source: WCAG 2.2, definition of relative luminance (with the sRGB threshold 0.04045).
 */
export function relativeLuminance(hex: string): number {
  const [r, g, b] = readHex(hex)
  return 0.2126 * toLinear(r) + 0.7152 * toLinear(g) + 0.0722 * toLinear(b)
}

/**
 * Contrast of two colours, from 1 (equal) to 21 (black on white), in either order.
 * @throws RangeError when a colour is malformed
 * @example contrastRatio('#000000', '#ffffff') // 21
 * Source: WCAG 2.2, definition of contrast ratio.
 */
export function contrastRatio(one: string, other: string): number {
  const [darker, lighter] = [relativeLuminance(one), relativeLuminance(other)].sort((a, b) => a - b) as [number, number]
  return (lighter + 0.05) / (darker + 0.05)
}
