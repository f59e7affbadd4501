import { hexOfLab, type Lab } from '../colour/lab.ts'

/** The grey scale for change in colour: each grade with the difference between its pair of greys, in CIELAB units. */
const GREY_SCALE: readonly { readonly grade: string; readonly difference: number; readonly words: string }[] = [
  { grade: '5', difference: 0, words: 'no difference to be seen' },
  { grade: '4-5', difference: 0.8, words: 'hardly any difference' },
  { grade: '4', difference: 1.7, words: 'a slight difference' },
  { grade: '3-4', difference: 2.5, words: 'a slight difference, seen side by side' },
  { grade: '3', difference: 3.4, words: 'a clear difference' },
  { grade: '2-3', difference: 4.8, words: 'a clear difference' },
  { grade: '2', difference: 6.8, words: 'a marked difference' },
  { grade: '1-2', difference: 9.6, words: 'a strong difference' },
  { grade: '1', difference: 13.6, words: 'a strong difference' },
]

export interface Grade {
  /** From 5, alike, to 1. */
  readonly grade: string
  readonly words: string
}

/**
 * The grade of the grey scale whose pair of greys differs most nearly as much as two colours do in CIELAB (the root of
 * the sum of squares, not CIEDE2000). Between two grades the lower one. It is a reckoned grade: no eye has judged it.
 * @throws RangeError when a value is not finite
 * @example greyScaleGrade([50, 0, 0], [50, 0, 3.4]) // grade 3
 * Source: the differences of ISO 105-A02:1993, clause 2.4; our words for them.
 */
export function greyScaleGrade(one: Lab, other: Lab): Grade {
  const difference = Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2])
  if (!Number.isFinite(difference)) throw new RangeError('the colours must be finite numbers')
  let nearest = GREY_SCALE[0]!
  for (const step of GREY_SCALE)
    if (Math.abs(step.difference - difference) <= Math.abs(nearest.difference - difference)) nearest = step
  return { grade: nearest.grade, words: nearest.words }
}

export type ReadLab = { readonly ok: true; readonly lab: Lab } | { readonly ok: false; readonly message: string }

/**
 * A measured colour as it is typed: L*, a* and b* parted by blanks or semicolons.
 * @example readLab('38.2 41,5 24') // [38.2, 41.5, 24]
 */
export function readLab(text: string): ReadLab {
  const numbers = text
    .trim()
    .split(/[\s;/]+/u)
    .map((part) => part.replace(',', '.').replace('−', '-'))
  const isRight = numbers.length === 3 && numbers.every((part) => /^[+-]?\d{1,3}(?:\.\d{1,6})?$/u.test(part))
  if (!isRight) return { ok: false, message: 'Write the three numbers L, a and b with blanks between: 38.2 41.5 24.' }
  const [lightness, a, b] = numbers.map(Number) as [number, number, number]
  if (lightness < 0 || lightness > 100) return { ok: false, message: 'L goes from 0, black, to 100, white.' }
  if (Math.abs(a) > 160 || Math.abs(b) > 160) return { ok: false, message: 'a and b lie between -160 and 160.' }
  return { ok: true, lab: [lightness, a, b] }
}

/** Whether a screen can show a colour: what it shows instead is the nearest. Half a step of 255 is left for rounding. */
export function isShown(lab: Lab, labOf: (hex: string) => Lab): boolean {
  const shown = labOf(hexOfLab(lab))
  return Math.hypot(shown[0] - lab[0], shown[1] - lab[1], shown[2] - lab[2]) < 1
}
