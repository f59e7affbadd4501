import { convertLab65ToRgb, convertRgbToLab65, differenceCiede2000 } from 'culori/fn'
import { requireFinite } from '../measure/argument.ts'
import { fromLinear, readHex, toHex } from './hex.ts'

/** A colour in CIELAB under D65: lightness from 0 (black) to 100 (white), green to red, blue to yellow. */
export type Lab = readonly [lightness: number, a: number, b: number]

const difference = differenceCiede2000()

/**
 * A colour in CIELAB, with the white of sRGB (D65) as its white.
 * @param hex `#rrggbb`
 * @throws RangeError when hex is not of that form
 * @example labOfHex('#ffffff') // [100, 0, 0]
 * Source: ISO/CIE 11664-4 by way of the package culori; the white is D65, not the D50 of CSS `lab()`.
 */
export function labOfHex(hex: string): Lab {
  const [r, g, b] = readHex(hex)
  return toLab(r, g, b)
}

/**
 * CIELAB of light: red, green and blue without their gamma, as one has them after averaging pixels.
 * @param red from 0 to 1, linear; green and blue alike
 * @throws RangeError when one is not finite
 * @example labOfLinear(1, 1, 1) // [100, 0, 0]
 * Source: as `labOfHex`.
 */
export function labOfLinear(red: number, green: number, blue: number): Lab {
  requireFinite('red', red)
  requireFinite('green', green)
  requireFinite('blue', blue)
  return toLab(fromLinear(red), fromLinear(green), fromLinear(blue))
}

/**
 * The nearest colour a screen can show, `#rrggbb`.
 * @throws RangeError when a value is not finite
 * @example hexOfLab(labOfHex('#9c3b2e')) // '#9c3b2e'
 * Source: as `labOfHex`.
 */
export function hexOfLab(lab: Lab): string {
  const { r, g, b } = convertLab65ToRgb(toCulori(lab))
  return toHex([r, g, b])
}

/**
 * How different two colours look, CIEDE2000: about 1 is the least one sees side by side, 10 is plain at a glance.
 * The same in either order.
 * @param one CIELAB, as `labOfHex` gives it
 * @throws RangeError when a value is not finite
 * @example deltaE2000([50, 2.6772, -79.7751], [50, 0, -82.7485]) // 2.0425, pair 1 of the published test data
 * Source: ISO/CIE 11664-6 with kL = kC = kH = 1, by way of the package culori.
 */
export function deltaE2000(one: Lab, other: Lab): number {
  return difference(toCulori(one), toCulori(other))
}

function toLab(r: number, g: number, b: number): Lab {
  const lab = convertRgbToLab65({ r, g, b })
  return [lab.l, lab.a, lab.b]
}

function toCulori([l, a, b]: Lab): { mode: 'lab65'; l: number; a: number; b: number } {
  return { mode: 'lab65', l: requireFinite('lightness', l), a: requireFinite('a', a), b: requireFinite('b', b) }
}
