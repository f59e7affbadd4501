import type { Draft } from '../../shared/draft/draft.ts'
import type { InferRequest } from '../../shared/draft/infer/request.ts'
import { inferDraft } from '../../shared/draft/infer/infer.ts'
import type { ObservedFace, ObservedSlant } from '../../shared/draft/infer/observed.ts'
import { reportDraft } from '../../shared/draft/report.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { asRatio, takeTurns, tell } from './measure.ts'

const ROUNDS = 5

/** Working out a draft beside weaving it, 15 cells of 100 not legible. */
export async function benchInfer(): Promise<void> {
  for (const [tablets, picks] of [
    [21, 72],
    [100, 1000],
  ] as const) {
    const draft = makeBenchDraft(tablets, picks)
    const turning = turningOf(draft)
    const { clean, noisy } = observe(draft)
    type Known = 'holes' | 'threading' | 'nothing'
    const ask = (known: Known, observed: ObservedFace, require: InferRequest['require']) => ({
      run: () =>
        inferDraft(
          {
            ...{ colours: draft.colours, weft: draft.weft, observed, require },
            tablets: draft.tablets.map((one) => ({
              ...{ ...one, start: null },
              holes: known === 'holes' ? one.holes : null,
              threading: known === 'nothing' ? null : one.threading,
            })),
          },
          '',
        ),
    })
    const neutral = { twistNeutral: true }
    const plain = { cells: clean.cells }
    const misread = { cells: noisy.cells }
    const taken = await takeTurns(
      {
        weave: { run: () => weave(draft, turning) },
        'holes known, start not': ask('holes', plain, {}),
        'the same, closing, no float over 4': ask('holes', plain, { closes: true, longestFloat: 4 }),
        'the same, neutral': ask('holes', plain, neutral),
        'the same, neutral, one cell in ten misread': ask('holes', misread, neutral),
        'holes and start unknown': ask('threading', plain, {}),
        'holes unknown, neutral, one cell in ten misread': ask('threading', misread, neutral),
        'nothing known, half the slants, closing, float 3': ask('nothing', noisy, { closes: true, longestFloat: 3 }),
        'nothing known, neutral, no float over 4': ask('nothing', noisy, { ...neutral, longestFloat: 4 }),
      },
      ROUNDS,
    )
    console.log(`Infer: ${tablets} tablets x ${picks} picks, 15 % not legible; medians of n = ${ROUNDS} rounds`)
    for (const [what, ms] of Object.entries(taken)) tell(what, ms, asRatio(ms, taken.weave, 'weave'))
  }
}

/** The face of a draft with gaps; and with one cell and slant in ten misread, every other slant legible. */
function observe(draft: Draft): { clean: ObservedFace; noisy: ObservedFace } {
  const { face, slant } = reportDraft(draft)
  const isGap = (pick: number, tablet: number) => (pick * 31 + tablet * 17) % 100 < 15
  const isMisread = (pick: number, tablet: number) => (pick * 7919 + tablet * 104729 + pick * pick) % 1009 < 101
  const cells = face.map((row, pick) => row.map((key, tablet) => (isGap(pick, tablet) ? null : key)))
  const misread = cells.map((row, pick) =>
    row.map((key, tablet) => (key !== null && isMisread(pick, tablet) ? (key === 'a' ? 'b' : 'a') : key)),
  )
  const slants = slant.map((row, pick) =>
    [...row].map((lean, tablet): ObservedSlant | null => {
      if ((pick + tablet) % 2 === 0) return null
      return (lean === '/') === isMisread(pick + 500, tablet) ? '\\' : '/'
    }),
  )
  return { clean: { cells }, noisy: { cells: misread, slants } }
}
