import { writeTurning } from '../turning.ts'
import type { Turning } from '../woven.ts'

/** The picks of a turning as text, one line a pick, beside the turning that they say. */
export interface PickTexts {
  readonly turning: Turning
  readonly lines: readonly string[]
}

/**
 * The picks of a turning as text, written in bits so that whoever asks may rest in between: 400 x 2,000 turns in one go
 * are seen. A pick that `known` has in the same place, counted from the first or from the last one, is not written anew.
 * @param known what was written before; its lines are believed
 * @returns after a pause for each pick that was written; then lines as `writeTurning` gives them
 * @throws RangeError as `writeTurning` does
 * @example [...writePicks(turning)].length // turning.picks
 * @example [...writePicks(turning, { turning, lines })].length // 0
 */
export function* writePicks(turning: Turning, known?: PickTexts): Generator<void, PickTexts, void> {
  const { tablets, picks, turns } = turning
  const old = known?.turning.tablets === tablets ? known : undefined
  const shift = old ? old.turning.picks - picks : 0
  const lines: string[] = []
  for (let pick = 0; pick < picks; pick++) {
    const same = old && [pick, pick + shift].find((at) => isSamePick(turns, pick, old.turning, at))
    if (old && same !== undefined) {
      lines.push(old.lines[same]!)
      continue
    }
    const row = turns.subarray(pick * tablets, (pick + 1) * tablets)
    lines.push(...writeTurning({ tablets, picks: 1, turns: row }))
    yield
  }
  return { turning, lines }
}

function isSamePick(turns: Int8Array, pick: number, other: Turning, at: number): boolean {
  if (at < 0 || at >= other.picks) return false
  const { tablets } = other
  for (let i = pick * tablets, j = at * tablets, end = i + tablets; i < end; i++, j++) {
    if (turns[i] !== other.turns[j]) return false
  }
  return true
}
