import type { Bench, Block } from '../../../shared/draft/edit/bench.ts'
import type { Edit, Refused } from '../../../shared/draft/edit/step.ts'
import * as tablet from '../../../shared/draft/edit/tablet-edit.ts'
import * as turn from '../../../shared/draft/edit/turn-edit.ts'
import type { Desk } from './desk.ts'

/** How often something is repeated, as typed beside the button; undefined when that is no number of times. */
export type Times = (which: 'picks' | 'tablets') => number | undefined

type Act = (bench: Bench, block: Block, times: Times) => Edit | Refused

const paint =
  (one: turn.Turn): Act =>
  (bench, block) =>
    turn.paintBlock(bench, block, one)

/** An edit of the tablets of a block that lie side by side; those between marked ones are never changed with them. */
const ofRun =
  (act: (bench: Bench, from: number, to: number, times: Times) => Edit | Refused): Act =>
  (bench, { tablets }, times) =>
    tablets.at(-1)! - tablets[0]! === tablets.length - 1
      ? act(bench, tablets[0]!, tablets.at(-1)!, times)
      : { why: 'The marked tablets do not lie side by side. Mark a run of neighbours for this.' }

const repeated = (times: number | undefined, act: (times: number) => Edit | Refused): Edit | Refused =>
  times === undefined ? { why: 'How many times? Type a whole number from 1.' } : act(times)

/** What the buttons do to the marked block, by the word in `data-do`. */
const ACTS: Readonly<Record<string, Act>> = {
  forward: paint(1),
  back: paint(-1),
  idle: paint(0),
  halfForward: paint(2),
  halfBack: paint(-2),
  turnOver: turn.turnOver,
  reverseOrder: turn.reverseOrder,
  mirrorTurns: turn.mirrorTurns,
  carryOn: turn.carryOn,
  pickBefore: (bench, { from }) => turn.insertPick(bench, from, from),
  pickAfter: (bench, { to }) => turn.insertPick(bench, to + 1, to),
  deletePicks: (bench, { from, to }) => turn.deletePicks(bench, from, to),
  repeatPicks: (bench, { from, to }, times) =>
    repeated(times('picks'), (many) => turn.repeatPicks(bench, from, to, many)),
  weaveBack: (bench, { from, to }) => turn.weaveBack(bench, from, to),
  tabletBefore: ofRun((bench, from) => tablet.insertTablet(bench, from, from)),
  tabletAfter: ofRun((bench, _from, to) => tablet.insertTablet(bench, to + 1, to)),
  deleteTablets: ofRun(tablet.deleteTablets),
  moveLeft: ofRun((bench, from, to) => tablet.moveTablets(bench, from, to, -1)),
  moveRight: ofRun((bench, from, to) => tablet.moveTablets(bench, from, to, 1)),
  mirrorInPlace: ofRun(tablet.mirrorInPlace),
  mirrorAfter: ofRun(tablet.mirrorAfter),
  repeatTablets: ofRun((bench, from, to, times) =>
    repeated(times('tablets'), (many) => tablet.repeatTablets(bench, from, to, many)),
  ),
}

/**
 * Does what a button is for and says what came of it.
 * @returns false when the word is not one of these
 */
export function act(desk: Desk, word: string, times: Times): boolean {
  const made = Object.hasOwn(ACTS, word) ? ACTS[word] : undefined
  if (!made) return false
  const edit = made(desk.bench, desk.block, times)
  const { anchor, cursor } = desk.mark
  if (desk.make(edit)) {
    // What was moved stays marked.
    const by = word === 'moveLeft' ? -1 : word === 'moveRight' ? 1 : 0
    if (by !== 0) {
      const moved = (place: typeof anchor) => ({ ...place, tablet: place.tablet + by })
      desk.setMark({ anchor: moved(anchor), cursor: moved(cursor) })
    }
    desk.tell(`Done: ${'label' in edit ? edit.label : ''}.`)
    desk.settle()
  } else if (!('why' in edit)) desk.tell('Nothing to change: it is so already.')
  return true
}
