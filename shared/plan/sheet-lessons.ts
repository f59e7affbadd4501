import { listFarOff } from './far-off.ts'
import type { PlanFacts } from './facts.ts'
import { learn } from './learned.ts'
import type { PlanWants } from './read-plan.ts'
import { sayLearned, sayNumber, sayPercent, shown, type Shown, type ShownRow } from './say.ts'
import type { PlanFigures } from './work-out.ts'

/** Further off than so many times, a value is doubtful by itself. Our own judgement. */
const MOST_LIKELY = 2

type Lessons = Pick<PlanFacts, 'takeUpRatios' | 'settled'>

/** Own finished pieces: what was measured on each, and what the grams that it used say, beside each other. */
export function lessonRows({ takeUpRatios, settled }: Lessons): ShownRow[] {
  const measured = withFarOff(takeUpRatios, ({ value }) => value)
  const byGrams = withFarOff(settled, ({ ratio }) => ratio)
  const wefts = withFarOff(settled, ({ weftRatio }) => weftRatio)
  const names = new Map([...takeUpRatios, ...settled].map(({ pieceId, piece }) => [pieceId, piece]))
  return [...names].map(([pieceId, piece]) => {
    const own = settled.find((one) => one.pieceId === pieceId)
    return {
      ...{ key: String(pieceId), head: piece, hex: '' },
      cells: [
        measured.get(pieceId) ?? shown('not measured'),
        own ? sayGramsOf(own) : shown('not settled'),
        byGrams.get(pieceId) ?? shown('–'),
        wefts.get(pieceId) ?? shown(own ? 'not known apart' : '–'),
      ],
    }
  })
}

function sayGramsOf({ percent, ratio, rests }: PlanFacts['settled'][number]): Shown {
  if (percent === null) return shown('nothing', `It teaches nothing of take-up: ${rests}.`)
  const odd =
    percent > 0
      ? ratio === null
        ? ' What geometry says of it is not known, so it is not set against that.'
        : ''
      : ' A take-up is more than nothing, so it is not counted: look at the weights, the count and the lengths again.'
  return shown(sayPercent(percent), `${rests} = ${sayPercent(percent)} of the woven length.${odd}`)
}

/** Each value as it is shown, those that lie far off marked as such; they count all the same. */
function withFarOff<T extends { readonly pieceId: number }>(
  pieces: readonly T[],
  of: (piece: T) => number | null,
): ReadonlyMap<number, Shown> {
  const known = pieces.flatMap((piece) => {
    const value = of(piece)
    return value === null ? [] : [{ pieceId: piece.pieceId, value }]
  })
  const values = known.map(({ value }) => value)
  const far = new Set(listFarOff(values))
  return new Map(
    known.map(({ pieceId, value }, at) => [
      pieceId,
      far.has(at) || value > MOST_LIKELY || value < 1 / MOST_LIKELY
        ? shown(
            `${sayNumber(value)} times, far off`,
            `${far.has(at) ? 'Far off the others (modified z-score above 3.5).' : `More than ${MOST_LIKELY} times, or less than half, of what was to be expected.`} It counts all the same: look at the weights, the count and the lengths of that piece again, and put right what is wrong.`,
          )
        : shown(`${sayNumber(value)} times`),
    ]),
  )
}

/** What follows from the lessons, and which of them the plan goes by. */
export function sayLessons(wants: PlanWants, facts: Lessons, { takeUp }: Pick<PlanFigures, 'takeUp'>): string {
  const { ratio, settled, by } = takeUp
  const weft = learn(facts.settled.flatMap(({ weftRatio }) => weftRatio ?? []))
  if (!ratio && !settled && !weft && facts.settled.length === 0) return ''
  const goesBy = {
    ...{ typed: 'the take-up as typed', usual: 'what is common practice', geometry: 'geometry alone' },
    ...{ corrected: 'what was measured', settled: 'the grams that were settled' },
  }[by]
  const allowance = weft ? 100 * ((1 + wants.weftAllowance / 100) * weft.mean - 1) : 0
  return [
    ratio
      ? `Measured, own pieces took up ${sayNumber(ratio.mean)} times what geometry says (${sayLearned(ratio)}).`
      : '',
    settled ? `By the grams that were settled it is ${sayNumber(settled.mean)} times (${sayLearned(settled)}).` : '',
    `This plan goes by ${goesBy}.`,
    weft
      ? `Weft was used ${sayNumber(weft.mean)} times what was planned (${sayLearned(weft)})${allowance > 0 ? `: an allowance of ${sayPercent(allowance)} in place of ${sayPercent(wants.weftAllowance)} would take that up` : ''}.`
      : '',
  ]
    .filter(Boolean)
    .join(' ')
}
