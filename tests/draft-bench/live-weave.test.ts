import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Bench, benchOf, type Block } from '../../shared/draft/edit/bench.ts'
import { addColour, setHexes } from '../../shared/draft/edit/colour-edit.ts'
import { NO_HISTORY, redo, remember, undo } from '../../shared/draft/edit/history.ts'
import { followEdit, startLiveWeave } from '../../shared/draft/edit/live-weave.ts'
import { untwist } from '../../shared/draft/edit/neutralise.ts'
import { applyEdit, type Edit, isRefused, layWhole, type Refused } from '../../shared/draft/edit/step.ts'
import * as tablet from '../../shared/draft/edit/tablet-edit.ts'
import * as turn from '../../shared/draft/edit/turn-edit.ts'
import { weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, arbitraryTablet, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'

type Make = (bench: Bench, block: Block) => Edit | Refused

/** Every edit of the bench, by the block that it works on. */
const EDITS: readonly Make[] = [
  ...([1, -1, 0, 2, -2] as const).map(
    (one): Make =>
      (bench, block) =>
        turn.paintBlock(bench, block, one),
  ),
  ...[turn.turnOver, turn.reverseOrder, turn.mirrorTurns, turn.carryOn],
  (bench, { from }) => turn.insertPick(bench, from, from),
  (bench, { from, to }) => turn.deletePicks(bench, from, to),
  (bench, { from, to }) => turn.repeatPicks(bench, from, to, 2),
  (bench, { from, to }) => turn.weaveBack(bench, from, to),
  ...[0, 1, 2].map(
    (way): Make =>
      (bench, block) =>
        untwist(bench, block)[way]?.edit ?? { why: 'neutral' },
  ),
  (bench, { tablets }) => tablet.insertTablet(bench, tablets[0]!, tablets[0]!),
  (bench, { tablets }) => tablet.deleteTablets(bench, tablets[0]!, tablets.at(-1)!),
  (bench, { tablets }) => tablet.repeatTablets(bench, tablets[0]!, tablets.at(-1)!, 1),
  (bench, { tablets }) => tablet.mirrorInPlace(bench, tablets[0]!, tablets.at(-1)!),
  (bench, { tablets }) => tablet.mirrorAfter(bench, tablets[0]!, tablets.at(-1)!),
  (bench, { tablets }) => tablet.moveTablets(bench, tablets[0]!, tablets.at(-1)!, 1),
  (bench, { tablets }) => tablet.moveTablets(bench, tablets[0]!, tablets.at(-1)!, -1),
  (bench, { tablets }) =>
    tablet.changeTablets(bench, tablets, (one) => ({ ...one, threading: one.threading === 'S' ? 'Z' : 'S' }), 'slant'),
  (bench, { tablets }) => tablet.changeTablets(bench, tablets, (one) => ({ ...one, start: 'C' }), 'start'),
  (bench) => setHexes(bench, { m: '#123456' }),
  (bench) => layWhole(bench, benchOf(draftOf([makeTablet()], [[1], [0], [-1]]).draft), 'another'),
  (bench) => addColour(bench, { name: 'new', hex: '#abcdef' }),
]

const arbitraryMove = fc.record({
  what: fc.oneof(
    { weight: 5, arbitrary: fc.nat(EDITS.length).map((at) => EDITS[at] ?? ('typed' as const)) },
    fc.constantFrom('undo' as const, 'redo' as const),
  ),
  corners: fc.tuple(fc.nat(8), fc.nat(8), fc.nat(23), fc.nat(23)),
  typed: fc.array(arbitraryTablet, { minLength: 1, maxLength: 3 }),
})

function blockIn({ turning }: Bench, [a, b, c, d]: readonly [number, number, number, number]): Block {
  const [low, high] = [a % turning.tablets, b % turning.tablets].sort((x, y) => x - y) as [number, number]
  const [from, to] = [c % turning.picks, d % turning.picks].sort((x, y) => x - y) as [number, number]
  return { tablets: Array.from({ length: high - low + 1 }, (_, at) => low + at), from, to }
}

test('followEdit(live, bench, edit) gives what a full weave gives, after any sequence of edits, undone and redone', () => {
  fc.assert(
    fc.property(arbitraryDraft, fc.array(arbitraryMove, { minLength: 1, maxLength: 14 }), ({ draft }, moves) => {
      let bench = benchOf(draft)
      let history = NO_HISTORY
      const live = startLiveWeave(bench)
      for (const { what, corners, typed } of moves) {
        if (what === 'undo' || what === 'redo') {
          const moved = (what === 'undo' ? undo : redo)(bench, history)
          if (!moved) continue
          followEdit(live, bench, moved.edit)
          ;({ bench, history } = moved)
          continue
        }
        const block = blockIn(bench, corners)
        const edit =
          what === 'typed'
            ? tablet.replaceTablets(bench, block.tablets[0]!, block.tablets.at(-1)!, typed)
            : what(bench, block)
        if (isRefused(edit) || bench.turning.picks > 200) continue
        const followed = followEdit(live, bench, edit)
        bench = applyEdit(bench, edit)
        history = remember(history, edit)
        expect(followed.tablets).toHaveLength(bench.tablets.length)
        expect(live.woven).toEqual(weave({ ...bench, picks: [] }, bench.turning))
      }
      expect(live.woven).toEqual(weave({ ...bench, picks: [] }, bench.turning))
      // All the way back, and as far forward again.
      const last = bench
      let steps = 0
      for (let moved = undo(bench, history); moved; moved = undo(bench, history)) {
        followEdit(live, bench, moved.edit)
        ;({ bench, history } = moved)
        steps++
      }
      expect(bench).toEqual(benchOf(draft))
      expect(live.woven).toEqual(weave({ ...bench, picks: [] }, bench.turning))
      for (; steps > 0; steps--) ({ bench, history } = redo(bench, history)!)
      expect(bench).toEqual(last)
    }),
    { numRuns: 150 },
  )
})

test('followEdit(live, bench, edit) names only the tablets that changed, and leaves the cloth of the others alone', () => {
  fc.assert(
    fc.property(arbitraryDraft, fc.tuple(fc.nat(8), fc.nat(8), fc.nat(23), fc.nat(23)), ({ draft }, corners) => {
      const bench = benchOf(draft)
      const block = blockIn(bench, corners)
      const live = startLiveWeave(bench)
      const before = structuredClone(live.woven)
      const edit = turn.paintBlock(bench, block, -1)
      const { resized, tablets } = followEdit(live, bench, edit)
      expect(resized).toBe(false)
      for (let cell = 0; cell < before.face.length; cell++) {
        if (tablets[cell % bench.tablets.length] === 0) {
          expect([live.woven.face[cell], live.woven.slant[cell]]).toEqual([before.face[cell], before.slant[cell]])
        }
      }
      for (let at = 0; at < tablets.length; at++) if (!block.tablets.includes(at)) expect(tablets[at]).toBe(0)
    }),
    { numRuns: 60 },
  )
})
