import type { CountReading } from './count-reading.ts'
import { readCount } from './written-count.ts'

export type ReadStrands =
  | { readonly ok: true; readonly readings: readonly CountReading[] }
  /** One strand can be read in several ways; which one is meant somebody has to say. */
  | { readonly ok: false; readonly question: string; readonly readings: readonly CountReading[] }
  | { readonly ok: false; readonly message: string }

/**
 * Reads a yarn of one or of several unlike strands, joined by a plus: `Nm 28/2`, `Nm 28 + 16 lea`.
 * @param text each strand as `readCount` takes it
 * @param chosen which reading of a strand that asks, from 0; left out where nothing was chosen yet
 * @returns a reading for each strand, in their order; or the first question, or the first sentence of what is wrong
 * @example readStrands('34 tex x 2 + 20 tex') // two readings, 68 and 20 tex
 */
export function readStrands(text: string, chosen?: number): ReadStrands {
  const readings: CountReading[] = []
  let isAsked = false
  for (const part of text.split('+')) {
    const read = readCount(part)
    if (read.ok) {
      readings.push(read.reading)
      continue
    }
    if ('message' in read) return read
    // One answer for two questions would be a guess.
    const answer = isAsked ? undefined : read.readings[chosen ?? -1]
    if (!answer) return read
    isAsked = true
    readings.push(answer)
  }
  return { ok: true, readings }
}
