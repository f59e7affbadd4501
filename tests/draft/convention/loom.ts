import { type Draft, HOLES, type Hole } from '../../../shared/draft/draft.ts'
import { turningOf } from '../../../shared/draft/turning.ts'
import type { ConventionCard } from '../../../shared/draft/convention/card.ts'

/**
 * A loom in space, for checking conversions without any of their arithmetic: a reader who stands somewhere and looks
 * somewhere, holes with coordinates, letters written round a face that somebody looks at, edges that are carried.
 * Axes of the room: x to the right of a weaver at the cloth, y from the cloth along the warp, z up.
 */
type Vector = readonly [number, number, number]

const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
const times = (k: number, a: Vector): Vector => [k * a[0], k * a[1], k * a[2]]
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const UP: Vector = [0, 0, 1]

/** What lies in the cloth, by place: from the left edge of the room, from the first pick on. */
export type Cloth = { face: string | null; reverse: string | null; slant: string }[][]

interface Thread {
  colour: string | null
  at: Vector
}

/** Sets the loom up as the author of this card means the draft, weaves it, and looks at the cloth. */
export function weaveInSpace(draft: Draft, card: ConventionCard): Cloth {
  // The reader looks along the warp: away from the cloth, or back to it.
  const away: Vector = card.end === 'warp' ? [0, -1, 0] : [0, 1, 0]
  const right = cross(away, UP)
  const turning = turningOf(draft)
  const rows = Array.from({ length: turning.picks }, (_, row) => row)
  const inTime = card.rows === 'upward' ? rows.reverse() : rows
  const places = draft.tablets.map((tablet, at) => {
    const place = card.count === 'right' ? draft.tablets.length - at : at + 1
    return { tablet, at, x: dot(times(place, right), [1, 0, 0]) }
  })
  return places
    .sort((one, two) => one.x - two.x)
    .map(({ tablet, at }) => {
      const thread = threadLine(tablet.threading, card, right, away)
      const threads = hang(tablet.holes, tablet.start, card, { right, away, thread })
      let shown: { face: string | null; reverse: string | null } = { face: null, reverse: null }
      return inTime.map((row) => {
        const turn = turning.turns[row * turning.tablets + at]!
        const toAway = turn > 0 === (card.forward !== 'towards')
        for (let quarter = 0; quarter < Math.abs(turn); quarter++)
          shown = carryEdge(threads, toAway ? away : times(-1, away))
        return { ...shown, slant: turn === 0 ? '.' : stitch(thread, toAway ? away : times(-1, away)) }
      })
    })
}

/** Which way a thread runs seen from above; S from the reader's far left to the near right. A tablet lies square to it. */
function threadLine(letter: 'S' | 'Z', card: ConventionCard, right: Vector, away: Vector): Vector {
  const near = times(-1, away)
  const named = letter === 'S' ? plus(right, near) : plus(times(-1, right), near)
  if (card.slant !== 'tablet') return named
  const square = cross(UP, named)
  return dot(square, near) > 0 ? square : times(-1, square)
}

/** Threads in the holes, the letters going round the lettered face, with the hole of the start where A would be. */
function hang(
  holes: Draft['tablets'][number]['holes'],
  start: Hole,
  card: ConventionCard,
  { right, away, thread }: { right: Vector; away: Vector; thread: Vector },
): Thread[] {
  const towardsX = times(Math.sign(dot(thread, right)), right)
  const looksTo = {
    ...{ right, left: times(-1, right), notStated: right },
    ...{ threadTowards: towardsX, threadAway: times(-1, towardsX) },
  }[card.face]
  // Somebody who looks at that face: what is at the right of their hand.
  const handRight = cross(times(-1, looksTo), UP)
  const turnOnce = (at: Vector): Vector => {
    const [across, up] = [dot(at, handRight), dot(at, UP)]
    const clockwise = plus(times(up, handRight), times(-across, UP))
    return card.sense === 'clockwise' ? clockwise : times(-1, clockwise)
  }
  const near = times(-1, away)
  let corner = {
    ...{ topNear: plus(UP, near), topFar: plus(UP, away), notStated: plus(UP, near) },
    ...{ bottomNear: plus(times(-1, UP), near), bottomFar: plus(times(-1, UP), away) },
  }[card.first]
  const threads: Thread[] = []
  for (let step = 0; step < 4; step++) {
    const letter = (HOLES.indexOf(start) + step) % 4
    threads.push({ colour: holes[letter]!, at: corner })
    corner = turnOnce(corner)
  }
  return threads
}

/** A quarter turn that carries the top edge along `way`. The thread that stays on top shows, as does the one that stays below. */
function carryEdge(threads: Thread[], way: Vector): { face: string | null; reverse: string | null } {
  const shown: { face: string | null; reverse: string | null } = { face: null, reverse: null }
  for (const thread of threads) {
    const [along, up] = [dot(thread.at, way), dot(thread.at, UP)]
    const next = plus(times(up, way), times(-along, UP))
    if (up > 0 && dot(next, UP) > 0) shown.face = thread.colour
    if (up < 0 && dot(next, UP) < 0) shown.reverse = thread.colour
    thread.at = next
  }
  return shown
}

/** Seen from above by the weaver at the cloth: S turned away from the cloth lays "/", and each opposite lays the opposite. */
function stitch(thread: Vector, way: Vector): string {
  const isS = thread[0] * thread[1] < 0
  return isS === way[1] > 0 ? '/' : '\\'
}
