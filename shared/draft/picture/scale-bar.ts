import { requirePositive } from '../../measure/argument.ts'
import type { Drawing } from './band.ts'
import { short } from './svg.ts'

const SIDE_MM = 3

/**
 * A bar of true length with its ticks: at every mm up to 60 mm, at every 5 mm up to 300 mm, at every 10 mm beyond; the
 * ends are labelled. Takes the colour of the text around it.
 * @param lengthMm of the bar
 * @returns a drawing 3 mm wider at each end than the bar, for the labels
 * @throws RangeError when lengthMm is not above zero or over 2000
 * @example scaleBar(50).widthMm // 56
 * Source: our own.
 */
export function scaleBar(lengthMm: number): Drawing {
  if (requirePositive('lengthMm', lengthMm) > 2000)
    throw new RangeError(`lengthMm must be at most 2000, not ${lengthMm}`)
  const step = lengthMm <= 60 ? 1 : lengthMm <= 300 ? 5 : 10
  let ticks = ''
  for (let at = 0; at <= lengthMm + 1e-9; at += step) {
    const height = at % (step * 10) === 0 ? 2.4 : at % (step * 5) === 0 ? 1.8 : 1.1
    ticks += `M${short(SIDE_MM + at)} 3v-${height}`
  }
  const end = SIDE_MM + lengthMm
  const label = (x: number, words: string) =>
    `<text x="${short(x)}" y="6.4" font-size="3" text-anchor="middle" fill="currentColor">${words}</text>`
  return {
    widthMm: lengthMm + 2 * SIDE_MM,
    heightMm: 7.2,
    content:
      `<path fill="none" stroke="currentColor" stroke-width=".2" d="${ticks}"/>` +
      `<path fill="none" stroke="currentColor" stroke-width=".4" d="M${SIDE_MM} 3H${short(end, 3)}M${SIDE_MM} 3.2V.4M${short(end, 3)} 3.2V.4"/>` +
      (lengthMm < 6 ? '' : label(SIDE_MM, '0')) +
      label(lengthMm < 6 ? SIDE_MM + lengthMm / 2 : end - 1, `${short(lengthMm)} mm`),
  }
}

/**
 * A round length for a scale bar: 1, 2 or 5 and noughts, the largest that fits.
 * @throws RangeError when mostMm is not above zero
 * @example roundLengthMm(73) // 50; roundLengthMm(0.3) // 0.2
 */
export function roundLengthMm(mostMm: number): number {
  const power = 10 ** Math.floor(Math.log10(requirePositive('mostMm', mostMm)))
  const lead = [5, 2, 1].find((digit) => digit * power <= mostMm) ?? 1
  return power < 1 ? lead / Math.round(1 / power) : lead * power
}
