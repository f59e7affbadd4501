import type { Draft } from '../../shared/draft/draft.ts'
import { readTurning } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { takeTurns } from './measure.ts'

// Figures as ratios within one run: a machine's own speed falls out of them.

const TABLETS = 200
const PICKS = 400
const ROUNDS = 41

const draft = makeDraft()
const read = readTurning(draft.picks, TABLETS)
if (!read.ok) throw new Error(read.problems[0]!.message)
const { turning } = read

const { plain, engine, text } = takeTurns(
  {
    plain: () => void plainPass(turning.turns),
    engine: () => void weave(draft, turning),
    text: () => void readTurning(draft.picks, TABLETS),
  },
  ROUNDS,
) as Record<'plain' | 'engine' | 'text', { ms: number }>

console.log(`Draft of ${TABLETS} tablets x ${PICKS} picks, medians of ${ROUNDS} rounds in turn`)
console.log(`plain pass that writes as many bytes  ${plain.ms.toFixed(3)} ms`)
console.log(
  `weave                                 ${engine.ms.toFixed(3)} ms, ${(engine.ms / plain.ms).toFixed(1)} plain passes`,
)
console.log(
  `reading the turning text              ${text.ms.toFixed(3)} ms, ${(text.ms / engine.ms).toFixed(1)} times weaving it`,
)

/** What no engine can do without: reading every turn and writing four bytes a cell. */
function plainPass(turns: Int8Array): Int8Array[] {
  const written = [0, 1, 2, 3].map(() => new Int8Array(turns.length)) as [Int8Array, Int8Array, Int8Array, Int8Array]
  for (let cell = 0; cell < turns.length; cell += 1) {
    const turn = turns[cell]!
    written[0][cell] = turn
    written[1][cell] = turn + 1
    written[2][cell] = turn + 2
    written[3][cell] = turn & 3
  }
  return written
}

/** Every pick another one, every tablet threaded alike but for S and Z: as far from repetition as a draft may be. */
function makeDraft(): Draft {
  let seed = 12345
  const chance = () => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648
  return {
    title: 'Bench',
    colours: { a: { name: 'madder', hex: '#9c3b2e' }, b: { name: 'undyed', hex: '#e9dfc8' } },
    weft: 'a',
    tablets: Array.from({ length: TABLETS }, (_, tablet) => ({
      threading: tablet % 2 ? ('Z' as const) : ('S' as const),
      holes: ['a', 'a', 'b', 'b'] as const,
      start: 'A' as const,
      part: 'pattern' as const,
    })),
    picks: Array.from({ length: PICKS }, () =>
      Array.from({ length: TABLETS }, () => (chance() < 0.5 ? '1F' : '1B')).join(' '),
    ),
  }
}
