import type { Draft } from '../../../shared/draft/draft.ts'
import { type CheckLine, listCheckLines, MOST_CHECKED_TURNS } from '../../../shared/draft/entry/check-line.ts'
import { type BriefLine, tellBriefly } from '../../../shared/draft/tell/brief-tell.ts'
import { weave } from '../../../shared/draft/weave.ts'
import type { Turning, Woven } from '../../../shared/draft/woven.ts'

/** What the bench says of a draft: short facts, and the checks that its page has too. */
export interface LookedOver {
  readonly facts: readonly BriefLine[]
  readonly checks: readonly CheckLine[]
}

/** @param woven what it weaves, where that is known already */
export function lookOver(draft: Draft, turning: Turning, woven: Woven = weave(draft, turning)): LookedOver {
  const isShort = turning.turns.length <= MOST_CHECKED_TURNS
  return {
    facts: isShort ? tellBriefly(draft, turning, woven) : [],
    checks: listCheckLines(draft, turning, woven),
  }
}
