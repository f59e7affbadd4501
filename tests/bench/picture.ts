import { wovenFace } from '../../shared/draft/picture/woven-face.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { scenario } from '../../seeds-demo/scenario.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { asRatio, inKb, takeTurns, tell } from './measure.ts'

const ROUNDS = 11

/** The woven face, in threads and in flat colour, beside weaving it. */
export async function benchPicture(): Promise<void> {
  console.log(`Woven face as SVG; medians of n = ${ROUNDS} rounds`)
  await drawn('200 x 400, no two picks alike', makeBenchDraft(200, 400))
  await drawn('24 x 72, no two picks alike', makeBenchDraft(24, 72))
  for (const draft of Object.values(scenario.drafts)) {
    await drawn(`${draft.tablets.length} x ${draft.picks.length}, ${draft.title}`, draft)
  }
}

async function drawn(name: string, draft: Draft): Promise<void> {
  const turning = turningOf(draft)
  const woven = weave(draft, turning)
  const look = { side: 'face', tabletWidthMm: 1, pickHeightMm: 0.9, idPrefix: 'b' } as const
  const face = (detail: 'high' | 'low') => wovenFace(draft, woven, { ...look, detail })
  const { engine, high, low } = await takeTurns(
    {
      engine: { run: () => weave(draft, turning) },
      high: { run: () => face('high') },
      low: { run: () => face('low') },
    },
    ROUNDS,
  )
  const stitches = draft.tablets.length * draft.picks.length
  const size = (svg: string) => `${inKb(svg)}, ${(Buffer.byteLength(svg) / stitches).toFixed(1)} bytes a stitch`
  console.log(` ${name}`)
  tell('weave', engine)
  tell('as threads (high)', high, asRatio(high, engine, 'weave'), size(face('high')))
  tell('in flat colour (low)', low, asRatio(low, engine, 'weave'), size(face('low')))
}
