import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { asRatio, takeTurns, tell } from './measure.ts'

const TABLETS = 200
const PICKS = 400
const ROUNDS = 41

/** The engine beside a plain pass of as many bytes, and reading the text beside the engine. */
export async function benchEngine(): Promise<void> {
  const draft = makeBenchDraft(TABLETS, PICKS)
  const turning = turningOf(draft)
  const { plain, engine, text } = await takeTurns(
    {
      plain: { run: () => plainPass(turning.turns) },
      engine: { run: () => weave(draft, turning) },
      text: { run: () => turningOf(draft) },
    },
    ROUNDS,
  )
  console.log(`Engine: ${TABLETS} tablets x ${PICKS} picks, every pick another one; medians of n = ${ROUNDS} rounds`)
  tell('plain pass that writes as many bytes', plain)
  tell('weave', engine, asRatio(engine, plain, 'plain pass'))
  tell('read the turning text', text, asRatio(text, engine, 'weave'))
}

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
