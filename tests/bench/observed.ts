import type { Draft } from '../../shared/draft/draft.ts'
import { reportDraft } from '../../shared/draft/report.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { bandMap, STRAIGHT } from '../../shared/observed/band-map.ts'
import { proposeColours, readColours } from '../../shared/observed/read-colours.ts'
import { type Pixels, sampleCells } from '../../shared/observed/sample.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { asRatio, takeTurns, tell } from './measure.ts'

const ROUNDS = 3
const [TABLETS, PICKS] = [100, 1000]
const CELL_PX = 6

/** Reading the cells of a large band off a picture, beside weaving its draft. */
export async function benchObserved(): Promise<void> {
  const draft = makeBenchDraft(TABLETS, PICKS)
  const turning = turningOf(draft)
  const pixels = photographOf(draft)
  const { width, height } = pixels
  const corners = {
    ...{ startLeft: { x: 0, y: height }, startRight: { x: width, y: height } },
    ...{ endRight: { x: width, y: 0 }, endLeft: { x: 0, y: 0 } },
  }
  const map = bandMap({ corners, bend: STRAIGHT, tablets: TABLETS, picks: PICKS })
  const samples = sampleCells(pixels, map, TABLETS, PICKS)
  const taken = await takeTurns(
    {
      weave: { run: () => weave(draft, turning) },
      'cells sampled': { run: () => sampleCells(pixels, map, TABLETS, PICKS) },
      'sorted into two colours': { run: () => readColours(samples, 2) },
      'how many colours': { run: () => proposeColours(samples) },
    },
    ROUNDS,
  )
  console.log(`Read off a picture: ${TABLETS} tablets x ${PICKS} picks; medians of n = ${ROUNDS} rounds`)
  for (const [what, ms] of Object.entries(taken)) tell(what, ms, asRatio(ms, taken.weave, 'weave'))
}

/** The face with a light that falls off and a grain, the same in every run; the start lies at the bottom. */
function photographOf(draft: Draft): Pixels {
  const { face } = reportDraft(draft)
  const [width, height] = [TABLETS * CELL_PX, PICKS * CELL_PX]
  const data = new Uint8ClampedArray(width * height * 4)
  for (let y = 0, at = 0; y < height; y++) {
    const row = face[PICKS - 1 - Math.floor(y / CELL_PX)]!
    for (let x = 0; x < width; x++, at += 4) {
      const hex = draft.colours[row[Math.floor(x / CELL_PX)] ?? draft.weft]!.hex
      const light = 1 - (0.3 * y) / height + (((x * 7919 + y * 104729) % 101) - 50) / 1000
      for (let channel = 0; channel < 3; channel++) {
        data[at + channel] = parseInt(hex.slice(1 + 2 * channel, 3 + 2 * channel), 16) * light
      }
      data[at + 3] = 255
    }
  }
  return { width, height, data }
}
