import type { Draft } from '../../shared/draft/draft.ts'
import { endsOf } from '../../shared/draft/ends.ts'
import { boundDraft } from '../../shared/draft/entry/bound.ts'
import { type CheckLine, findTooLong, listCheckLines, MOST_CHECKED_TURNS } from '../../shared/draft/entry/check-line.ts'
import { longestFloat } from '../../shared/draft/floats.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { countDistinctPicks, listPacks } from '../../shared/draft/packs.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import type { Turning } from '../../shared/draft/woven.ts'

interface CountLine {
  readonly label: string
  readonly value: string
}

/** What is read out of a draft for its page. */
export interface LookedOver {
  readonly checks: readonly CheckLine[]
  readonly counts: readonly CountLine[]
  /** Of the whole repeat, or of as many first picks as a page reads while somebody waits. */
  readonly turning: Turning
}

/**
 * Checks and counts of a draft. A repeat of millions of turns would hold up everybody's pages for seconds, so the page
 * says that it was not looked over, and shows how it begins.
 */
export function lookOver(draft: Draft): LookedOver {
  const [tablets, picks] = [draft.tablets.length, draft.picks.length]
  const tooLong = findTooLong(tablets, picks)
  const begun = tooLong ? boundDraft(draft, MOST_CHECKED_TURNS) : draft
  const turning = turningOf(begun)
  const size = listSizes(draft)
  if (tooLong) return { checks: [tooLong], counts: size, turning }
  const woven = weave(draft, turning)
  const packs = listPacks(turning)
  const float = longestFloat(draft, woven, { overSeam: true })
  const counts = [
    ...size,
    { label: 'Different picks', value: String(countDistinctPicks(turning)) },
    { label: 'Packs', value: packs.length === tablets ? `${tablets}: every tablet for itself` : String(packs.length) },
    { label: 'Longest float, face', value: sayFloat(float.face) },
    { label: 'Longest float, reverse', value: sayFloat(float.reverse) },
  ]
  return { checks: listCheckLines(draft, turning, woven), counts, turning }
}

function listSizes(draft: Draft): CountLine[] {
  const tablets = draft.tablets.length
  const borders = draft.tablets.filter(({ part }) => part === 'border').length
  return [
    { label: 'Tablets', value: borders === 0 ? String(tablets) : `${tablets}, ${borders} of them border` },
    { label: 'Warp ends', value: String(endsOf(draft)) },
    { label: 'Picks in the repeat', value: String(draft.picks.length) },
  ]
}

/** Woven again and again, a thread of a tablet that never turns floats without end. */
const sayFloat = (picks: number) =>
  Number.isFinite(picks) ? sayCount(picks, 'pick') : 'without end: a thread never changes side'
