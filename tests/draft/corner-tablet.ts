import { HOLES, type Draft, type Hole } from '../../shared/draft/draft.ts'

/** The second implementation: four threads that are carried from corner to corner, and a look at where they are. */
export type Corner = 'top-near' | 'top-far' | 'bottom-far' | 'bottom-near'

const NEXT_FORWARD: Record<Corner, Corner> = {
  'top-near': 'top-far',
  'top-far': 'bottom-far',
  'bottom-far': 'bottom-near',
  'bottom-near': 'top-near',
}
const NEXT_BACK: Record<Corner, Corner> = {
  'top-far': 'top-near',
  'bottom-far': 'top-far',
  'bottom-near': 'bottom-far',
  'top-near': 'bottom-near',
}
const AT_THE_START: Record<Hole, Corner> = { A: 'top-near', B: 'bottom-near', C: 'bottom-far', D: 'top-far' }

interface Thread {
  hole: Hole
  at: Corner
}

export interface SeenPick {
  face: Hole | null
  reverse: Hole | null
  slant: string
  topNear: Hole
  /** Threads above the weft. */
  up: Hole[]
}

const isUp = (thread: Thread) => thread.at === 'top-near' || thread.at === 'top-far'

function holdTablet(start: Hole): Thread[] {
  const threads = HOLES.map((hole) => ({ hole, at: AT_THE_START[hole] }))
  while (threads.find((thread) => thread.at === 'top-near')!.hole !== start) carry(threads, NEXT_FORWARD)
  return threads
}

function carry(threads: Thread[], next: Record<Corner, Corner>): { overTheTop: Hole; underneath: Hole } {
  const wasUp = new Map(threads.map((thread) => [thread, isUp(thread)]))
  for (const thread of threads) thread.at = next[thread.at]
  return {
    overTheTop: threads.find((thread) => wasUp.get(thread) && isUp(thread))!.hole,
    underneath: threads.find((thread) => !wasUp.get(thread) && !isUp(thread))!.hole,
  }
}

/** Turns one tablet by hand. What shows is the thread that the last quarter turn carried across the top, or beneath. */
export function turnByHand(threading: 'S' | 'Z', start: Hole, turns: readonly number[]): SeenPick[] {
  const threads = holdTablet(start)
  let shown: { overTheTop: Hole; underneath: Hole } | null = null
  return turns.map((turn) => {
    for (let quarter = 0; quarter < Math.abs(turn); quarter++) {
      shown = carry(threads, turn > 0 ? NEXT_FORWARD : NEXT_BACK)
    }
    return {
      face: shown?.overTheTop ?? null,
      reverse: shown?.underneath ?? null,
      slant: turn === 0 ? '.' : threading === (turn > 0 ? 'S' : 'Z') ? '/' : '\\',
      topNear: threads.find((thread) => thread.at === 'top-near')!.hole,
      up: threads
        .filter(isUp)
        .map((thread) => thread.hole)
        .sort(),
    }
  })
}

/** Every tablet of a draft turned by hand: one list of seen picks a tablet. */
export function weaveByHand(draft: Draft, turns: readonly (readonly number[])[]): SeenPick[][] {
  return draft.tablets.map((tablet, at) =>
    turnByHand(
      tablet.threading,
      tablet.start,
      turns.map((pick) => pick[at]!),
    ),
  )
}
