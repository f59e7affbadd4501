import { type Draft, MOST_PICKS } from './draft.ts'
import { turningOf, writeTurning } from './turning.ts'
import type { Turning } from './woven.ts'

export type BorderSteps =
  | { readonly ok: true; readonly steps: readonly number[] }
  /** Why no border plan can be made for it, a sentence. */
  | { readonly ok: false; readonly message: string }

/**
 * The quarter turns that the border tablets of a draft make at each pick of the repeat, all of them together and never
 * back: what `planBorders` needs. Left and right borders may turn opposite ways.
 * @param draft of which only the parts of the tablets are used
 * @returns one number a pick, zero or more; or why there is none
 * @throws RangeError when the turning is for another number of tablets
 * @example borders that turn forward at every pick: { ok: true, steps: [1, 1, …] }
 */
export function borderSteps(draft: Pick<Draft, 'tablets'>, { tablets, picks, turns }: Turning): BorderSteps {
  if (draft.tablets.length !== tablets) throw new RangeError(`turning must be for ${draft.tablets.length} tablets`)
  const borders = [...draft.tablets.keys()].filter((at) => draft.tablets[at]!.part === 'border')
  if (borders.length === 0) return { ok: false, message: 'The draft has no border tablets.' }
  const columns = borders.map((tablet) => Array.from({ length: picks }, (_, pick) => turns[pick * tablets + tablet]!))
  if (columns.some((column) => column.some((turn) => turn > 0) && column.some((turn) => turn < 0)))
    return {
      ok: false,
      message: 'The borders of the draft turn back by themselves; where they do stands in its turning.',
    }
  const [first = [], ...others] = columns.map((column) => column.map(Math.abs))
  if (others.some((column) => column.some((turn, pick) => turn !== first[pick])))
    return { ok: false, message: 'The border tablets do not turn together, so no one plan fits them all.' }
  if (first.every((turn) => turn === 0)) return { ok: false, message: 'The border tablets never turn.' }
  return { ok: true, steps: first }
}

/**
 * A draft written out over a whole band, its border tablets turning the other way after some picks.
 * @param picks of the band, a whole number from 1 to `MOST_PICKS`; the repeat is woven again and again
 * @param reversals picks after which the borders turn the other way
 * @returns the draft with as many picks; pattern tablets turn as before
 * @throws RangeError when picks is out of range, or the draft's picks cannot be read
 * @example withBorderPlan(draft of ['2F'] with tablet 1 a border, 4, [2]).picks // ['2F', '2F', '1B 1F', '1B 1F']
 */
export function withBorderPlan(draft: Draft, picks: number, reversals: readonly number[]): Draft {
  if (!Number.isSafeInteger(picks) || picks < 1 || picks > MOST_PICKS)
    throw new RangeError(`picks must be a whole number from 1 to ${MOST_PICKS}, not ${picks}`)
  const repeat = turningOf(draft)
  const { tablets } = repeat
  const turns = new Int8Array(picks * tablets)
  const turnsBack = new Set(reversals)
  let way = 1
  for (let pick = 0; pick < picks; pick++) {
    if (turnsBack.has(pick)) way = -way
    for (let tablet = 0; tablet < tablets; tablet++) {
      const turn = repeat.turns[(pick % repeat.picks) * tablets + tablet]!
      turns[pick * tablets + tablet] = draft.tablets[tablet]!.part === 'border' ? way * turn : turn
    }
  }
  return { ...draft, picks: writeTurning({ tablets, picks, turns }) }
}

/**
 * The reversals that a draft has by being another one written out with a border plan: what `withBorderPlan` did, read back.
 * @param written the draft that may have been written out
 * @param from the draft that it may have been made of, with fewer picks
 * @returns picks after which its borders turn the other way than those of the other; undefined where it is not that one
 *   written out
 * @example readBorderPlan(withBorderPlan(draft, 4, [2]), draft) // [2]
 */
export function readBorderPlan(written: Draft, from: Draft): number[] | undefined {
  const [long, repeat] = [written, from].map(({ tablets, picks }) => ({ tablets, picks: picks.length }))
  if (long!.picks <= repeat!.picks || JSON.stringify(written.tablets) !== JSON.stringify(from.tablets)) return undefined
  const isBorder = written.tablets.map(({ part }) => part === 'border')
  const [after, before] = [turningOf(written), turningOf(from)]
  const reversals: number[] = []
  let way = 1
  for (let pick = 0; pick < after.picks; pick++) {
    const row = (turning: Turning, at: number, tablet: number) => turning.turns[at * turning.tablets + tablet]!
    const moved = isBorder.flatMap((is, tablet) => {
      const [now, once] = [row(after, pick, tablet), row(before, pick % before.picks, tablet)]
      return is && once !== 0 ? [now / once] : now === once ? [] : [Number.NaN]
    })
    if (moved.some((one) => one !== moved[0] || Math.abs(one) !== 1)) return undefined
    if (moved[0] === undefined || moved[0] === way) continue
    way = moved[0]
    reversals.push(pick)
  }
  return reversals
}
