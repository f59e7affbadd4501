import { describe, expect, test } from 'vitest'
import { keepAt, LONGEST_MS, REST_MS } from '../../shared/draft/edit/keep-pace.ts'
import { type PickTexts, writePicks } from '../../shared/draft/edit/pick-texts.ts'
import { writeTurning } from '../../shared/draft/turning.ts'
import type { Turning } from '../../shared/draft/woven.ts'

const WIDE = 7
const PICKS = 40
const TURNING: Turning = {
  ...{ tablets: WIDE, picks: PICKS },
  turns: Int8Array.from({ length: WIDE * PICKS }, (_, at) => ((at * 11 + (at >> 3)) % 5) - 2),
}

/** What is written, and how many picks were written anew for it. */
function written(turning: Turning, known?: PickTexts): { texts: PickTexts; anew: number } {
  const writing = writePicks(turning, known)
  for (let anew = 0; ; anew++) {
    const step = writing.next()
    if (step.done) return { texts: step.value, anew }
  }
}
const KNOWN = written(TURNING).texts
const changed = (change: (turns: Int8Array) => void): Turning => {
  const turns = TURNING.turns.slice()
  change(turns)
  return { ...TURNING, turns }
}
const withPick = (at: number): Turning => {
  const turns = [...TURNING.turns]
  turns.splice(at * WIDE, 0, ...Array<number>(WIDE).fill(2))
  return { tablets: WIDE, picks: PICKS + 1, turns: Int8Array.from(turns) }
}

describe('writePicks(turning, known) gives what writeTurning gives and writes anew', () => {
  test.each<[string, Turning, PickTexts | undefined, number]>([
    ['every pick when nothing is known', TURNING, undefined, PICKS],
    ['nothing when nothing changed', changed(() => {}), KNOWN, 0],
    [
      'one pick when one turn changed',
      changed((turns) => (turns[WIDE * 5 + 3]! = -turns[WIDE * 5 + 3]! || 1)),
      KNOWN,
      1,
    ],
    ['the last one too', changed((turns) => turns.fill(1, -WIDE)), KNOWN, 1],
    ['one pick when one was put in', withPick(17), KNOWN, 1],
    ['nothing when one was taken out', TURNING, written(withPick(17)).texts, 0],
    ['every pick when there are other tablets', { tablets: WIDE * 2, picks: 20, turns: TURNING.turns }, KNOWN, 20],
  ])('%s', (_what, turning, known, anew) => {
    const made = written(turning, known)
    expect(made.texts.lines).toEqual(writeTurning(turning))
    expect(made.anew).toBe(anew)
  })
})

describe('keepAt(firstMs, lastMs)', () => {
  test('is a rest after the last edit, and never later than the longest wait after the first', () => {
    expect(keepAt(100, 100)).toBe(100 + REST_MS)
    expect(keepAt(100, 100 + LONGEST_MS - REST_MS + 1)).toBe(100 + LONGEST_MS)
    expect(keepAt(100, 90_000)).toBe(100 + LONGEST_MS)
    // Saving within 2 s is promised; what is left is for the way.
    expect(LONGEST_MS).toBeLessThanOrEqual(1500)
  })
})
