import { type Draft, HOLES } from '../draft.ts'
import type { Turning } from '../woven.ts'
import type { CellChange } from './misprint.ts'

/**
 * Every single change of one tablet: each turn to each other turn that the draft knows (forward and back always among
 * them), each hole to each other colour of the draft (or none, when holes may be empty in it), its threading.
 * @param tablet numbered from 1
 */
export function* listChanges(draft: Draft, turning: Turning, tablet: number): Generator<CellChange> {
  const { threading, holes } = draft.tablets[tablet - 1]!
  yield { kind: 'threading', tablet, was: threading, now: threading === 'S' ? 'Z' : 'S' }
  const colours = new Set([...Object.keys(draft.colours), ...draft.tablets.flatMap((one) => one.holes)])
  for (const [at, hole] of HOLES.entries()) {
    for (const now of colours) if (now !== holes[at]) yield { kind: 'colour', tablet, hole, was: holes[at]!, now }
  }
  const known = [...new Set([1, -1, ...turning.turns])]
  for (let pick = 1; pick <= turning.picks; pick++) {
    const was = turning.turns[(pick - 1) * turning.tablets + tablet - 1]!
    for (const now of known) if (now !== was) yield { kind: 'turn', pick, tablet, was, now }
  }
}

/**
 * The draft and the turning with the change made. What the search itself never does for every change.
 * @example applyChange(draft, turning, { kind: 'turn', pick: 3, tablet: 2, was: 1, now: -1 })
 */
export function applyChange(draft: Draft, turning: Turning, change: CellChange): { draft: Draft; turning: Turning } {
  if (change.kind === 'turn') {
    const turns = turning.turns.slice()
    turns[(change.pick - 1) * turning.tablets + change.tablet - 1] = change.now
    return { draft, turning: { ...turning, turns } }
  }
  const tablet = draft.tablets[change.tablet - 1]!
  const changed =
    change.kind === 'threading'
      ? { ...tablet, threading: change.now }
      : {
          ...tablet,
          holes: tablet.holes.with(HOLES.indexOf(change.hole), change.now) as unknown as typeof tablet.holes,
        }
  return { draft: { ...draft, tablets: draft.tablets.with(change.tablet - 1, changed) }, turning }
}
