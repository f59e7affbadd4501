import { type Draft, HOLES, type Tablet } from '../../../shared/draft/draft.ts'
import { longestFloat } from '../../../shared/draft/floats.ts'
import type { InferRequest } from '../../../shared/draft/infer/request.ts'
import { weave } from '../../../shared/draft/weave.ts'
import { turnByHand } from '../corner-tablet.ts'

/** Everything that can be said of a tablet by trying all of it: every start, every turning, every filling of holes. */
export interface Tried {
  mismatches: number
  reversals: number
  /** As `15 FFBF`: start and turns, of all that reach the best with the holes and threading asked for. */
  best: { start: number; turns: number[]; face: (string | null)[]; slants: string[] }[]
}

/**
 * @param holes the filling to count for; the least is looked for over this one alone
 * @returns undefined when nothing meets what is required
 */
export function tryAll(
  request: InferRequest,
  tablet: number,
  holes: Tablet['holes'],
  threading: 'S' | 'Z',
): Tried | undefined {
  const known = request.tablets[tablet]!
  const starts = known.start ? [HOLES.indexOf(known.start)] : [0, 1, 2, 3]
  const picks = request.observed.cells.length
  let tried: Tried | undefined
  for (const start of starts) {
    for (let code = 0; code < 2 ** picks; code++) {
      const turns = Array.from({ length: picks }, (_, pick) => ((code >> pick) & 1 ? -1 : 1))
      if (!meets(request, holes, start, turns)) continue
      const seen = turnByHand(threading, HOLES[start]!, turns)
      const face = seen.map((pick) => holes[HOLES.indexOf(pick.face!)]! ?? request.weft ?? null)
      const slants = seen.map((pick) => pick.slant)
      const mismatches =
        request.observed.cells.filter((row, pick) => row[tablet] !== null && row[tablet] !== face[pick]).length +
        (request.observed.slants ?? []).filter((row, pick) => row[tablet] !== null && row[tablet] !== slants[pick])
          .length
      const reversals = turns.filter((turn, pick) => pick > 0 && turn !== turns[pick - 1]).length
      const better =
        !tried || mismatches < tried.mismatches || (mismatches === tried.mismatches && reversals < tried.reversals)
      if (better) tried = { mismatches, reversals, best: [] }
      if (tried!.mismatches === mismatches && tried!.reversals === reversals)
        tried!.best.push({ start, turns, face, slants })
    }
  }
  return tried
}

function meets({ require }: InferRequest, holes: Tablet['holes'], start: number, turns: number[]): boolean {
  const net = turns.reduce((sum, turn) => sum + turn, 0)
  if (require.closes && net % 4 !== 0) return false
  if (require.twistNeutral && net !== 0) return false
  if (require.longestFloat === undefined) return true
  const one: Tablet = { threading: 'S', holes, start: HOLES[start]!, part: 'pattern' }
  const draft: Draft = { title: '', colours: {}, weft: '', tablets: [one], picks: [] }
  const woven = weave(draft, { tablets: 1, picks: turns.length, turns: Int8Array.from(turns) })
  const longest = longestFloat(draft, woven)
  return Math.max(longest.face, longest.reverse) <= require.longestFloat
}

/** Every filling of four holes with these colours. */
export function listFillings(colours: readonly string[]): Tablet['holes'][] {
  return colours.flatMap((a) =>
    colours.flatMap((b) => colours.flatMap((c) => colours.map((d) => [a, b, c, d] as Tablet['holes']))),
  )
}
