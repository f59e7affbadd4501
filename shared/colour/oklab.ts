import { requireFinite } from '../measure/argument.ts'
import { fromLinear, type Rgb, readHex, toHex, toLinear } from './hex.ts'

/** Perceived lightness from 0 (black) to 1 (white), and two axes of hue: green to red, blue to yellow. */
export type Oklab = readonly [lightness: number, a: number, b: number]

/**
 * A colour in OKLab, where equal steps look about equally large.
 * @param hex `#rrggbb`
 * @throws RangeError when hex is not of that form
 * @example toOklab('#ffffff') // [1, 0, 0] to within 1e-7
 * Source: Björn Ottosson, "A perceptual color space for image processing", 2020,
 * https://bottosson.github.io/posts/oklab/
 */
export function toOklab(hex: string): Oklab {
  const [r, g, b] = readHex(hex).map(toLinear) as unknown as Rgb
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b)
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b)
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b)
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ]
}

/**
 * A hex colour from OKLab; what no screen can show is brought to the nearest end of each of red, green and blue.
 * @example fromOklab(toOklab('#9c3b2e')) // '#9c3b2e'
 * Source: as `toOklab`.
 */
export function fromOklab([lightness, a, b]: Oklab): string {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3
  return toHex([
    fromLinear(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    fromLinear(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    fromLinear(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ])
}

/**
 * A colour made lighter by a share of its distance to white; its hue stays.
 * @param hex `#rrggbb`
 * @param share 0 leaves it, 1 gives white
 * @throws RangeError when share is not from 0 to 1 or hex is malformed
 * @example lighten('#000000', 0.5) // a grey of OKLab lightness 0.5, '#636363'
 */
export function lighten(hex: string, share: number): string {
  requireShare(share)
  const [lightness, a, b] = toOklab(hex)
  return fromOklab([lightness + (1 - lightness) * share, a * (1 - share), b * (1 - share)])
}

/**
 * A colour made darker by a share of its lightness; its hue stays.
 * @param hex `#rrggbb`
 * @param share 0 leaves it, 1 gives black
 * @throws RangeError when share is not from 0 to 1 or hex is malformed
 * @example darken('#ffffff', 1) // '#000000'
 */
export function darken(hex: string, share: number): string {
  requireShare(share)
  const [lightness, a, b] = toOklab(hex)
  return fromOklab([lightness * (1 - share), a * (1 - share), b * (1 - share)])
}

function requireShare(share: number): void {
  if (requireFinite('share', share) < 0 || share > 1) throw new RangeError(`share must be from 0 to 1, not ${share}`)
}
