import { contractionOf } from './twist.ts'
import type { CountSystem } from './count.ts'
import { type Counted, type Fibre, fibreOf, isWhole, systemsOf, type Unit, unitOf } from './count-custom.ts'
import { type CountReading, say, toReading } from './count-reading.ts'

export type ReadCount =
  | { readonly ok: true; readonly reading: CountReading }
  /** It can be read in several ways, and which one is meant goes by the custom of the fibre: somebody has to say. */
  | { readonly ok: false; readonly question: string; readonly readings: readonly CountReading[] }
  | { readonly ok: false; readonly message: string }

interface Written {
  /** In the order in which they stand: `28/2` or `2/28`. */
  readonly first: number
  readonly second?: number
  readonly unit: Unit | undefined
  readonly unitStandsFirst: boolean
  readonly fibre: Fibre | undefined
}

const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`

/**
 * Reads a count as people write it: `Nm 28/2`, `20/2 wool`, `16 lea`, `34 tex x 2`, `NeL 40/2`, `R 69.3 tex`,
 * `400 m/100 g`. A count with its system has one reading. Without it the fibre's custom decides, and where customs
 * differ the readings come back with a question instead of a guess.
 * @param text as typed; a decimal comma or point, small or capital letters
 * @returns one reading; or a question with the readings that are possible; or a sentence that says what is missing
 * @example readCount('Nm 28/2') // Nm 28, two plied: 35.7 tex x 2
 * @example readCount('20/2 wool') // a question: metric or worsted count?
 * @example readCount('fine') // { ok: false, message: … }
 * Source of the customs: Nm and Ne write the single's count first (20/2), English worsted and cotton often the ply first
 * (2/20); the number of spun silk counts the plied yarn (C. P. Brooks, Cotton Manufacturing); tex writes 34 tex x 2
 * (ISO 1139). That a ply is the smaller number is common practice, no source.
 */
export function readCount(text: string): ReadCount {
  const plain = text.trim().toLowerCase().replace(/×/gu, 'x').replace(/\s+/gu, ' ')
  if (plain === '') return { ok: false, message: 'Write the count, as Nm 28/2, 16 lea or 34 tex x 2.' }
  const direct = readDirect(plain)
  if (direct) return direct
  const written = readWritten(plain)
  if (typeof written === 'string') return { ok: false, message: written }
  return interpret(written)
}

/** `34 tex x 2`, `tex 34x2`, `34 tex x 2 R 69.3 tex`, `R 69.3 tex`: a direct count with its plies or its resultant. */
function readDirect(plain: string): ReadCount | undefined {
  const resultant = new RegExp(`(?:^|[ ;])r ?${NUMBER} ?(tex|dtex)$`).exec(plain)
  const before = resultant ? plain.slice(0, resultant.index).trim() : plain
  const single = new RegExp(
    `^(?:${NUMBER} ?(tex|dtex|ktex|den|denier)|(tex|dtex|ktex|den|denier) ?${NUMBER})(?: ?x ?(\\d{1,2}))?$`,
  ).exec(before)
  if (resultant && before === '') {
    const tex = numberOf(resultant[1]!) * (resultant[2] === 'dtex' ? 0.1 : 1)
    if (!(tex > 0)) return { ok: false, message: 'A count is more than zero.' }
    return one('tex', tex, 1, 'whole')
  }
  if (!single)
    return resultant ? { ok: false, message: 'Before R, write the single: 34 tex x 2 R 69.3 tex.' } : undefined
  const unit = (single[2] ?? single[3])!
  const value = numberOf((single[1] ?? single[4])!)
  const ply = single[5] === undefined ? 1 : Number(single[5])
  if (!(value > 0) || ply < 1) return { ok: false, message: 'A count and a number of plies are more than zero.' }
  const system = unit === 'den' ? 'denier' : (unit as CountSystem)
  const reading = toReading(system, value, ply, 'single')
  if (!resultant) return { ok: true, reading }
  const found = numberOf(resultant[1]!) * (resultant[2] === 'dtex' ? 0.1 : 1)
  if (!(found >= reading.resultantTex)) {
    const nominal = say(reading.resultantTex)
    return {
      ok: false,
      message: `R ${say(found)} tex is less than the singles together, ${nominal} tex: plying makes a yarn coarser.`,
    }
  }
  const contraction = contractionOf(reading.resultantTex, found)
  const sentence = `${reading.sentence} Measured ${say(found)} tex: plying took up ${say(100 * contraction)} % of the length.`
  return { ok: true, reading: { ...reading, resultantTex: found, contraction, sentence } }
}

function readWritten(plain: string): Written | string {
  const match = new RegExp(
    `^([a-z_][a-z_ ]*?)? ?${NUMBER}(?: ?/ ?${NUMBER}(?![a-z0-9]))?(?: ?([a-z_][a-z_ /0-9]*))?$`,
  ).exec(plain)
  if (!match) return 'This is not a count that is known here; write it as Nm 28/2, 16 lea, 20/2 wool or 34 tex x 2.'
  const [, before, first, second, after] = match
  const words = [before, after].map((one) => one?.trim() ?? '').filter((one) => one !== '')
  let unit: Unit | undefined
  let fibre: Fibre | undefined
  for (const word of words) {
    const parts = knownParts(word)
    if (!parts)
      return `“${word}” is no count system or fibre that is known here. Nm, Ne, NeC, NeW, NeL (lea), tex, denier, yd/lb and m/100 g are.`
    unit = parts.unit ?? unit
    fibre = parts.fibre ?? fibre
  }
  const numbers = [first!, second].filter((one) => one !== undefined).map(numberOf)
  if (numbers.some((one) => !(one > 0))) return 'A count and a number of plies are more than zero.'
  return {
    first: numbers[0]!,
    ...(numbers[1] !== undefined && { second: numbers[1] }),
    unit,
    unitStandsFirst: unitOf(before?.trim() ?? '') !== undefined,
    fibre,
  }
}

/** One word, or a system followed by a fibre: `nm`, `wool`, `nm wool`. */
function knownParts(word: string): { unit?: Unit; fibre?: Fibre } | undefined {
  const unit = unitOf(word)
  if (unit) return { unit }
  const fibre = fibreOf(word)
  if (fibre) return { fibre }
  const space = word.indexOf(' ')
  if (space < 0) return undefined
  const [head, tail] = [word.slice(0, space), word.slice(space + 1)]
  const [headUnit, tailFibre] = [unitOf(head), fibreOf(tail)]
  if (headUnit && tailFibre) return { unit: headUnit, fibre: tailFibre }
  const [headFibre, tailUnit] = [fibreOf(head), unitOf(tail)]
  return headFibre && tailUnit ? { unit: tailUnit, fibre: headFibre } : undefined
}

function interpret(written: Written): ReadCount {
  const split = splitPly(written)
  if ('question' in split) {
    const readings = split.question.flatMap(({ value, ply }) => readingsOf(written, value, ply))
    return readings.length > 1
      ? {
          ok: false,
          question: `Which number is the count, and which the ply: ${readings.map((one) => one.sentence).join(' Or: ')}`,
          readings,
        }
      : { ok: false, message: 'Write the ply last, as in 8/2.' }
  }
  if ('message' in split) return { ok: false, message: split.message }
  const readings = readingsOf(written, split.value, split.ply)
  const [only] = readings
  if (readings.length === 1 && only) return { ok: true, reading: only }
  if (readings.length === 0) {
    return {
      ok: false,
      message: 'Say which system the number is in, or of which fibre the yarn is: Nm 28/2, 20/2 wool, 16 lea.',
    }
  }
  const question = `Makers of different yarns write alike and mean different things. ${readings.map((one) => one.sentence).join(' Or: ')}`
  return { ok: false, question, readings }
}

/** Which of two numbers is the ply: the smaller, when it is a whole number up to 12 and the two differ. */
function splitPly({
  first,
  second,
  unit,
}: Written): { value: number; ply: number } | { question: { value: number; ply: number }[] } | { message: string } {
  if (second === undefined) return { value: first, ply: 1 }
  if (unit !== undefined && isWhole(unit))
    return { message: 'This unit counts the whole yarn, so no ply is written with it.' }
  const canBePly = (one: number) => Number.isInteger(one) && one >= 1 && one <= 12
  if (first === second)
    return canBePly(first)
      ? { value: first, ply: second }
      : { message: 'One of the two numbers should be the ply, up to 12.' }
  if (canBePly(first) && canBePly(second)) {
    // 8/2 is a common cotton and 2/8 the same in English writing; 10/12 could be either.
    if (Math.min(first, second) <= 4) return { value: Math.max(first, second), ply: Math.min(first, second) }
    return {
      question: [
        { value: first, ply: second },
        { value: second, ply: first },
      ],
    }
  }
  if (canBePly(second)) return { value: first, ply: second }
  if (canBePly(first)) return { value: second, ply: first }
  return { message: 'One of the two numbers should be the ply, a whole number up to 12.' }
}

function readingsOf({ unit, fibre }: Written, value: number, ply: number): CountReading[] {
  return systemsOf(unit, fibre).map(({ system, of }) => toReading(system, value, ply, of))
}

function one(system: CountSystem, value: number, ply: number, of: Counted): ReadCount {
  return { ok: true, reading: toReading(system, value, ply, of) }
}

function numberOf(text: string): number {
  return Number(text.replace(',', '.'))
}
