import { bandMap } from '../../shared/observed/band-map.ts'
import { offerCounts } from '../../shared/observed/period.ts'
import { proposeColours, readColours } from '../../shared/observed/read-colours.ts'
import { type Pixels, sampleCells } from '../../shared/observed/sample.ts'
import { slantsOf } from '../../shared/observed/slant.ts'
import type { Answer, Ask, ReadAnswer, RhythmAnswer } from './observed/message.ts'

/** Reads photographs beside the page, so that it goes on answering. */

/** A stitch leans legibly when so much of its edges do. */
const LEAST_LEAN = 0.35

let picture: Pixels | undefined

const scope = self as unknown as {
  postMessage(answer: Answer): void
  onmessage: ((event: MessageEvent<Ask & { readonly id: number }>) => void) | null
}
scope.onmessage = ({ data }) => {
  try {
    scope.postMessage({ id: data.id, answer: work(data) })
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    scope.postMessage({ id: data.id, failed: error.message })
  }
}

function work(ask: Ask): RhythmAnswer | ReadAnswer | undefined {
  if (ask.what === 'picture') {
    picture = { width: ask.width, height: ask.height, data: new Uint8ClampedArray(ask.data) }
    return undefined
  }
  if (!picture) throw new RangeError('there is no picture yet')
  const map = bandMap(ask.marks)
  if (ask.what === 'rhythm') {
    return { across: offerCounts(picture, map, 'across'), along: offerCounts(picture, map, 'along') }
  }
  const { tablets, picks } = ask.marks
  const samples = sampleCells(picture, map, tablets, picks)
  const read = readColours(samples, ask.k ?? proposeColours(samples))
  return { read, slants: ask.slants ? slantsOf(picture, map, tablets, picks, LEAST_LEAN).slants : undefined }
}
