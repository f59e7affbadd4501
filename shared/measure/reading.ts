import { listWords, readNumber, type Word } from './reading-word.ts'
import { convertUnit, UNITS, type QuantityKind, type Unit } from './unit.ts'

export interface Reading {
  /** The words as they were typed: `13,5` or `72 in 9`. */
  readonly entered: string
  /** In the unit that was asked for. */
  readonly value: number
  /** For a density that was typed as a count over a length. */
  readonly counted?: { readonly count: number; readonly lengthMm: number }
}

export interface ReadingProblem {
  /** Counted from 1; the column in characters as people see them. */
  readonly line: number
  readonly column: number
  readonly word: string
  readonly message: string
}

export type ReadReadings =
  | { readonly ok: true; readonly readings: readonly Reading[] }
  | { readonly ok: false; readonly entered: string; readonly problems: readonly ReadingProblem[] }

/** More readings than this of one feature are taken for a slip of the clipboard. */
export const MOST_READINGS = 1000

/** So many as they take at their longest, with room: more is not looked at. Our own. */
const LONGEST_TEXT = 50_000

const LENGTH_WORDS = ['mm', 'cm', 'in'] as const
const MARKS = ['in', '/']
const UNIT_WORDS: readonly string[] = [...LENGTH_WORDS, 'm', '°']

/**
 * Readings as they come: numbers separated by spaces, new lines or semicolons. `13.5` and `13,5` are the same number; a
 * comma is always a decimal comma and never separates, so `13, 14` is refused rather than guessed at. The unit may
 * stand after a number (`13.5 mm`) if it is the unit of the field. A density may also be typed as a count over a
 * length, `72 in 9` or `72/9`: the length is in cm (in inches when the unit is per inch) unless mm, cm or in follows it.
 * @param text what was typed; at most 1000 readings in 50,000 characters
 * @param field `kind` of quantity and `unit` of the field
 * @returns the readings in their order, in the unit of the field, none for an empty text; or what was typed and every
 *   problem with its line, column and word. Refused are: words, signs, thousands marks, exponents; a length or density of
 *   zero; a count that is not whole; an angle above 90 degrees
 * @throws RangeError when the unit does not measure that kind
 * @example readReadings('13,5 13.2; 13', { kind: 'length', unit: 'mm' }) // 13.5, 13.2, 13
 * @example readReadings('72 in 9', { kind: 'perCm', unit: 'perCm' }) // one reading of 8, counted 72 over 90 mm
 * @example readReadings('13, 14', { kind: 'length', unit: 'mm' }) // refused at line 1, column 1: "13,"
 */
export function readReadings(text: string, field: { kind: QuantityKind; unit: Unit }): ReadReadings {
  if (UNITS[field.unit].kind !== field.kind)
    throw new RangeError(`unit must measure ${field.kind}, not ${UNITS[field.unit].kind} like ${field.unit}`)
  if (text.length > LONGEST_TEXT) {
    const [word = ''] = /^\S{0,12}/u.exec(text) ?? []
    const message = `This is longer than ${MOST_READINGS} readings are.`
    return { ok: false, entered: text, problems: [{ line: 1, column: 1, word, message }] }
  }
  const readings: Reading[] = []
  const problems: ReadingProblem[] = []
  for (const words of listWords(text, field.kind === 'perCm')) {
    let at = 0
    for (let first = words[at]; first; first = words[at]) {
      const taken = takeReading(first, words.slice(at + 1, at + 4), field)
      if ('problem' in taken) problems.push(taken.problem)
      else readings.push(taken.reading)
      if (readings.length > MOST_READINGS)
        return {
          ok: false,
          entered: text,
          problems: [toProblem(first, `These are more than ${MOST_READINGS} readings.`)],
        }
      at += taken.used
    }
  }
  return problems.length > 0 ? { ok: false, entered: text, problems } : { ok: true, readings }
}

type Taken = { used: number; reading: Reading } | { used: number; problem: ReadingProblem }

/** One reading that starts with `first`; up to three more words of its line may belong to it. */
function takeReading(first: Word, next: readonly Word[], field: { kind: QuantityKind; unit: Unit }): Taken {
  const number = readNumber(first.text)
  if (!number.ok) return { used: 1, problem: toProblem(first, number.message) }
  const [mark] = next
  if (field.kind === 'perCm' && number.suffix === '' && mark && MARKS.includes(mark.text))
    return takeCounted([first, mark], next.slice(1), number.value, field.unit)
  return takePlain(first, mark, number, field)
}

/** A count over a length: the two words `72 in` and up to two more, `9` and `cm`. */
function takeCounted(
  [first, mark]: readonly [Word, Word],
  [second, last]: readonly Word[],
  count: number,
  fieldUnit: Unit,
): Taken {
  if (!second) return { used: 2, problem: toProblem(mark, 'After this a length is wanted, as in 72 in 9.') }
  const length = readNumber(second.text)
  if (!length.ok) return { used: 3, problem: toProblem(second, length.message) }
  const own: Unit = fieldUnit === 'perIn' ? 'in' : 'cm'
  const apart = length.suffix === '' && last ? asLengthUnit(last.text) : undefined
  const used = apart ? 4 : 3
  const unit = length.suffix === '' ? (apart ?? own) : asLengthUnit(length.suffix)
  if (!unit) return { used, problem: toProblem(second, 'The length of a count is in mm, cm or in.') }
  if (count === 0) return { used, problem: toProblem(first, 'A count over a length is more than zero.') }
  if (length.value === 0) return { used, problem: toProblem(second, 'The length of a count is more than zero.') }
  const words = [first, mark, second, ...(apart && last ? [last] : [])]
  // The length stays in the unit it divides by: 72 in 9 is 8, with no detour through mm to round it.
  const density = count / convertUnit(length.value, unit, own)
  return {
    used,
    reading: {
      entered: words.map((word) => word.text).join(' '),
      value: convertUnit(density, own === 'in' ? 'perIn' : 'perCm', fieldUnit),
      counted: { count, lengthMm: convertUnit(length.value, unit, 'mm') },
    },
  }
}

function takePlain(
  first: Word,
  next: Word | undefined,
  number: { value: number; suffix: string },
  field: { kind: QuantityKind; unit: Unit },
): Taken {
  const { kind, symbol } = UNITS[field.unit]
  if (number.suffix !== '' && !UNIT_WORDS.includes(number.suffix))
    return { used: 1, problem: toProblem(first, 'This is not a number.') }
  const standsApart = number.suffix === '' && next !== undefined && UNIT_WORDS.includes(next.text)
  const unitWord = standsApart ? next.text : number.suffix
  const used = standsApart ? 2 : 1
  const at = standsApart ? next : first
  if (unitWord !== '' && (kind === 'perCm' || unitWord !== symbol))
    return { used, problem: toProblem(at, ONLY[kind](symbol)) }
  const wrong = WRONG[kind](number.value)
  if (wrong) return { used, problem: toProblem(first, wrong) }
  return { used, reading: { entered: first.text, value: number.value } }
}

const ONLY: Readonly<Record<QuantityKind, (symbol: string) => string>> = {
  length: (symbol) => `This field is in ${symbol}.`,
  perCm: (symbol) => `A density is a number ${symbol}, or a count over a length as in 72 in 9.`,
  count: () => 'A count has no unit.',
  angle: () => 'This field is in degrees.',
}

const ZERO = 'A reading of zero cannot be compared; leave it out.'

const WRONG: Readonly<Record<QuantityKind, (value: number) => string | undefined>> = {
  length: (value) => (value === 0 ? ZERO : undefined),
  perCm: (value) => (value === 0 ? ZERO : undefined),
  count: (value) => (Number.isInteger(value) ? undefined : 'A count is a whole number.'),
  angle: (value) => (value > 90 ? 'A twist angle is from 0 to 90 degrees.' : undefined),
}

function asLengthUnit(word: string | undefined): Unit | undefined {
  return LENGTH_WORDS.find((unit) => unit === word)
}

function toProblem({ line, column, text }: Word, message: string): ReadingProblem {
  return { line, column, word: text, message }
}
