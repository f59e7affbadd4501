import { parse, type DateNode, type EdtfNode } from 'edtf'
import { phraseOf } from './dating-phrase.ts'
import { findProblem, yearsOf } from './dating-year.ts'

/** A date of an original, as it is kept. */
export interface Dating {
  /** As typed, trimmed: Extended Date/Time Format. */
  readonly edtf: string
  /** In English: "about 450 BCE". */
  readonly phrase: string
  /** Astronomical years (0 is 1 BCE, -449 is 450 BCE); null where an end is open or not known. */
  readonly earliestYear: number | null
  readonly latestYear: number | null
}

export type ReadDating = { ok: true; dating: Dating } | { ok: false; message: string }

const NOT_EDTF = 'This is not a date in the EDTF notation; please compare the examples.'
const SHORT_YEAR =
  'A year has four digits: 0199, not 199. Years before the common era have a minus sign and are one less, because there ' +
  'is a year 0: 450 BCE is -0449. A decade is 198X, a century 19XX.'
const LONGEST = 200

/**
 * Reads a date in the Extended Date/Time Format, levels 0 to 2.
 * Beyond the letter of the grammar a mark of doubt may follow unspecified digits, `198X~`, because finds are dated so.
 * Refused, though the format has them: decades and centuries by two or three digits (`199`, `-450`), which are nearly always
 * a year typed without its zeros; and an interval with neither end.
 * @example readDating('-0449~') // "about 450 BCE", -449 to -449; readDating('-450') is refused
 * Source: Library of Congress, Extended Date/Time Format specification, 4 February 2019; ISO 8601-2:2019.
 */
export function readDating(text: string): ReadDating {
  const edtf = text.trim()
  if (edtf.length > LONGEST) return { ok: false, message: `Please keep the date under ${LONGEST} characters.` }
  if (edtf.split(/\.\.|[/,[\]{}]/).some((part) => /^[?~%]?-?\d{1,3}[?~%]?$/.test(part)))
    return { ok: false, message: SHORT_YEAR }
  const node = parseEdtf(edtf)
  if (!node) return { ok: false, message: NOT_EDTF }
  const problem = findProblem(node)
  if (problem) return { ok: false, message: problem }
  const [earliestYear, latestYear] = yearsOf(node)
  return { ok: true, dating: { edtf, phrase: phraseOf(node), earliestYear, latestYear } }
}

/** A date that was read before, in English; a date that cannot be read (any more) is shown as it stands. */
export function toPhrase(edtf: string): string {
  const read = edtf === '' ? undefined : readDating(edtf)
  return read?.ok ? read.dating.phrase : edtf
}

/** The library's grammar stops at a mark after an unspecified digit, so such marks are taken off and put back on the nodes. */
function parseEdtf(text: string): EdtfNode | undefined {
  const parts = text.split('/')
  const marks = parts.map((part) => /^[-\dX]*X[-\dX]*([?~%])$/.exec(part)?.[1])
  const bare = parts.map((part, index) => (marks[index] ? part.slice(0, -1) : part)).join('/')
  let node: EdtfNode
  try {
    node = parse(bare)
  } catch {
    // The parser says "not in the language" by throwing, and nothing else.
    return undefined
  }
  if (isDate(node)) return withMark(node, marks[0])
  if (node.type !== 'Interval') return node
  const [from, to] = node.values
  return { ...node, values: [isDate(from) ? withMark(from, marks[0]) : from, isDate(to) ? withMark(to, marks[1]) : to] }
}

const WHOLE = 0b11111111

function withMark(node: DateNode, mark: string | undefined): DateNode {
  if (mark === undefined) return node
  return {
    ...node,
    ...(mark === '?' ? {} : { approximate: WHOLE }),
    ...(mark === '~' ? {} : { uncertain: WHOLE }),
  }
}

/** One date; in sets the parser leaves the type of a masked one out. */
function isDate(node: EdtfNode | number | null): node is DateNode {
  return typeof node === 'object' && node !== null && (node.type === undefined || node.type === 'Date')
}
