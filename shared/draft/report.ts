import { type ColourKey, type Draft } from './draft.ts'
import { type Float, listFloats, LONGEST_USUAL_FLOAT, longestFloat } from './floats.ts'
import { countDistinctPicks, listPacks } from './packs.ts'
import { countReversals, keepsParity } from './turn-habits.ts'
import { turningOf } from './turning.ts'
import { closesAfter, isTwistNeutral } from './twist.ts'
import { colourGrid, weave } from './weave.ts'
import type { Woven } from './woven.ts'

/** What a draft weaves, in the shapes that `POST /api/v1/draft/weave` answers with. Counted from 1. */
export interface DraftReport {
  readonly tablets: number
  readonly picks: number
  readonly face: readonly (readonly (ColourKey | null)[])[]
  readonly reverse: readonly (readonly (ColourKey | null)[])[]
  /** One string a pick of `/`, `\` and `.` for idle. */
  readonly slant: readonly string[]
  /** Net quarter turns per tablet, forward positive. */
  readonly net: readonly number[]
  readonly twistNeutral: boolean
  /** In repeats. */
  readonly closesAfter: 1 | 2 | 4
  /** Longer than 3 picks, within the repeat as given. */
  readonly floats: readonly Float[]
  readonly longestFloat: { readonly face: number; readonly reverse: number }
  readonly reversals: readonly number[]
  readonly packs: readonly (readonly number[])[]
  readonly distinctPicks: number
  readonly parity: boolean
}

/**
 * Weaves a draft and reports on it.
 * @param draft one that `readDraft` returned
 * @throws RangeError when its picks cannot be read
 * @example reportDraft(draft).slant[0] // '//\\.'
 */
export function reportDraft(draft: Draft): DraftReport {
  const turning = turningOf(draft)
  const woven = weave(draft, turning)
  return {
    tablets: woven.tablets,
    picks: woven.picks,
    face: colourGrid(draft, woven, 'face'),
    reverse: colourGrid(draft, woven, 'reverse'),
    slant: listSlants(woven),
    net: [...woven.net],
    twistNeutral: isTwistNeutral(woven),
    closesAfter: closesAfter(woven),
    floats: listFloats(draft, woven, LONGEST_USUAL_FLOAT),
    longestFloat: longestFloat(draft, woven),
    reversals: countReversals(turning),
    packs: listPacks(turning),
    distinctPicks: countDistinctPicks(turning),
    parity: keepsParity(turning),
  }
}

/** The slants of every pick as text, in the order of NO_SLANT, SLASH and BACKSLASH. */
function listSlants({ tablets, picks, slant }: Woven): string[] {
  return Array.from({ length: picks }, (_, pick) => {
    let line = ''
    for (let cell = pick * tablets; cell < (pick + 1) * tablets; cell++) line += './\\'[slant[cell]!]!
    return line
  })
}
