import type { Bench } from '../../../shared/draft/edit/bench.ts'
import { type PickTexts, writePicks } from '../../../shared/draft/edit/pick-texts.ts'
import type { Draft } from '../../../shared/draft/draft.ts'

/** So long the page is kept from the hand at a time, half a frame. */
const SLICE_MS = 8

/**
 * Writes the draft on the bench out for keeping, in slices between which the page answers; only picks that changed since
 * the last time cost something.
 * @param opened as the server wrote it, and as it lies on the bench
 */
export function draftWriter(opened: Draft, { turning }: Bench): (bench: Bench) => Promise<Draft> {
  let known: PickTexts = { turning, lines: opened.picks }
  const draftOf = ({ title, colours, weft, tablets }: Bench): Draft => ({
    ...{ title, colours, weft, tablets, picks: known.lines },
  })
  return async (bench) => {
    const writing = writePicks(bench.turning, known)
    let began = performance.now()
    for (;;) {
      const step = writing.next()
      if (step.done) {
        known = step.value
        return draftOf(bench)
      }
      if (performance.now() - began < SLICE_MS) continue
      await new Promise((resolve) => setTimeout(resolve))
      began = performance.now()
    }
  }
}
