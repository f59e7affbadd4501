/** Red, green, blue as sRGB values from 0 to 1, gamma-encoded as they stand in a hex colour. */
export type Rgb = readonly [red: number, green: number, blue: number]

const HEX = /^#[0-9a-f]{6}$/i

/**
 * Reads a colour written as `#rrggbb`.
 * @returns red, green, blue, each from 0 to 1
 * @throws RangeError for anything else: short forms, names and anything that could leave an SVG attribute
 * @example readHex('#ff8000') // [1, 0.50196…, 0]
 * @example readHex('#f80') // throws
 * Source: the form is that of CSS Color Module Level 4, section 5.2, six digits only.
 */
export function readHex(hex: string): Rgb {
  if (!HEX.test(hex)) throw new RangeError(`hex must be # and six hexadecimal digits, not ${JSON.stringify(hex)}`)
  const bits = Number.parseInt(hex.slice(1), 16)
  return [(bits >> 16) / 255, ((bits >> 8) & 255) / 255, (bits & 255) / 255]
}

/**
 * Writes a colour as `#rrggbb`, lower case. Values outside 0 to 1 are brought to the nearer end.
 * @throws RangeError when a value is NaN
 * @example toHex([1, 0.5, -0.2]) // '#ff8000'
 */
export function toHex(rgb: Rgb): string {
  const bytes = rgb.map((value) => {
    if (Number.isNaN(value)) throw new RangeError(`rgb must be three numbers, not ${rgb.join(', ')}`)
    return Math.round(Math.min(1, Math.max(0, value)) * 255)
  })
  return '#' + bytes.map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

/**
 * Takes the gamma off one sRGB value.
 * @param encoded from 0 to 1
 * @returns light, linear, from 0 to 1
 * @example toLinear(0.5) // 0.2140…
 * Source: IEC 61966-2-1 (sRGB), as given in WCAG 2.2, "relative luminance".
 */
export function toLinear(encoded: number): number {
  return encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4
}

/**
 * Puts the gamma back on one linear value; the inverse of `toLinear`.
 * @example fromLinear(toLinear(0.5)) // 0.5
 * Source: IEC 61966-2-1 (sRGB).
 */
export function fromLinear(linear: number): number {
  return linear <= 0.0031308 ? linear * 12.92 : 1.055 * linear ** (1 / 2.4) - 0.055
}
