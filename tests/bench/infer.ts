import type { InferRequest } from '../../shared/draft/infer/request.ts'
import { inferDraft } from '../../shared/draft/infer/infer.ts'
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
    const cells = reportDraft(draft).face.map((row, pick) =>
      row.map((key, tablet) => ((pick * 31 + tablet * 17) % 100 < 15 ? null : key)),
    )
    const ask = (isKnown: boolean, require: InferRequest['require']) => () =>
      inferDraft(
        {
          ...{ colours: draft.colours, weft: draft.weft, observed: { cells }, require },
          tablets: draft.tablets.map((one) =>
            isKnown ? { ...one, start: null } : { ...one, holes: null, start: null },
          ),
        },
        '',
      )
    const { woven, known, closing, unknown } = await takeTurns(
      {
        woven: { run: () => weave(draft, turning) },
        known: { run: ask(true, {}) },
        closing: { run: ask(true, { closes: true, longestFloat: 4 }) },
        unknown: { run: ask(false, {}) },
      },
      ROUNDS,
    )
    console.log(`Infer: ${tablets} tablets x ${picks} picks, 15 % not legible; medians of n = ${ROUNDS} rounds`)
    tell('weave', woven)
    tell('holes known, start not', known, asRatio(known, woven, 'weave'))
    tell('the same, closing, no float over 4', closing, asRatio(closing, woven, 'weave'))
    tell('holes and start unknown', unknown, asRatio(unknown, woven, 'weave'))
  }
}
