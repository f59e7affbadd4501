import type { Draft } from '../draft.ts'
import { sayCount, sayListed } from '../number-words.ts'
import { longestFloat } from '../floats.ts'
import { isTwistNeutral } from '../twist.ts'
import { weave } from '../weave.ts'
import type { Turning, Woven } from '../woven.ts'
import { measureComplexity } from './complexity.ts'
import { listTwistRuns } from './twist-run.ts'

/** One short fact of a draft, for a line beside its picture. */
export interface BriefLine {
  readonly key: 'twist' | 'furthest' | 'floats' | 'handfuls' | 'changes' | 'picks' | 'bits'
  readonly label: string
  readonly text: string
  /** True where most weavers would look twice: twist that is left over, floats over 3 picks. */
  readonly asksForLook: boolean
}

/**
 * What a draft tells, in seven short lines that may be made anew at every change of it: one pass or a few over the
 * turns.
 * @param woven what it weaves, when that is already known
 * @returns always the same keys in the same order; empty when there are no picks yet
 * @throws RangeError when draft, turning and woven are not of the same size
 * @example tellBriefly(draft, turning)[0] // { key: 'twist', label: 'Twist', text: 'neutral', asksForLook: false }
 */
export function tellBriefly(draft: Draft, turning: Turning, woven: Woven = weave(draft, turning)): BriefLine[] {
  if (turning.tablets !== woven.tablets || turning.picks !== woven.picks) {
    const sizes = `${turning.tablets} x ${turning.picks} and ${woven.tablets} x ${woven.picks}`
    throw new RangeError(`turning and woven must be of one size, got ${sizes}`)
  }
  if (turning.picks === 0) return []
  const twisted = [...woven.net.keys()].filter((tablet) => woven.net[tablet] !== 0).map((tablet) => tablet + 1)
  const furthest = listTwistRuns(turning).reduce((a, b) => (Math.abs(b.most) > Math.abs(a.most) ? b : a))
  const floats = longestFloat(draft, woven, { overSeam: true })
  const { changesPerPick, handfulsPerPick, packs, distinctPicks, bitsPerPick, picks } = measureComplexity(turning)
  const mean = (value: number) => String(Math.round(value * 10) / 10)
  const line = (key: BriefLine['key'], label: string, text: string, asksForLook = false): BriefLine => {
    return { key, label, text, asksForLook }
  }
  return [
    isTwistNeutral(woven)
      ? line('twist', 'Twist', 'neutral')
      : line('twist', 'Twist', `left in ${sayListed('tablet', twisted)}`, true),
    line('furthest', 'Furthest twist', sayFurthest(furthest.most, furthest.tablet, furthest.mostAt)),
    line(
      'floats',
      'Longest float',
      `face ${sayFloat(floats.face)}, reverse ${sayFloat(floats.reverse)}`,
      Math.max(floats.face, floats.reverse) > 3,
    ),
    line('handfuls', 'Handfuls a pick', `${mean(handfulsPerPick)} in the mean, ${sayCount(packs, 'pack')}`),
    line('changes', 'Changes of direction', `${sayCount(changesPerPick, 'tablet')} a pick in the mean`),
    line('picks', 'Different picks', `${distinctPicks} of ${picks}`),
    line(
      'bits',
      'Surprise',
      `${sayCount(Number(mean(bitsPerPick)), 'bit')} a pick, given the one before (n = ${picks})`,
    ),
  ]
}

function sayFurthest(quarters: number, tablet: number, pick: number): string {
  if (quarters === 0) return 'no tablet turns'
  const way = quarters > 0 ? 'forward' : 'back'
  return `${sayCount(Math.abs(quarters), 'quarter turn')} ${way}, tablet ${tablet} at pick ${pick}`
}

const sayFloat = (picks: number) => (Number.isFinite(picks) ? sayCount(picks, 'pick') : 'without end')
