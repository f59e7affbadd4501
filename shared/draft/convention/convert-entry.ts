import type { DrawableDraft, ReadDraftEntry } from '../entry/draft-entry.ts'
import { turningOf } from '../turning.ts'
import type { ConventionCard } from './card.ts'
import { toFrame } from './convert.ts'

/**
 * A draft as it was read from the form's words, brought into our frame by the card of the author who wrote it down.
 * Problems stay where they are: they point at the words as typed.
 * @example convertEntry(readDraftEntry(entry), OUR_FRAME) // says the same
 */
export function convertEntry(read: ReadDraftEntry, card: ConventionCard): ReadDraftEntry {
  if (read.ok) return { ok: true, ...converted(read, card) }
  return read.begun === undefined ? read : { ...read, begun: converted(read.begun, card) }
}

function converted({ draft }: DrawableDraft, card: ConventionCard): DrawableDraft {
  const ours = toFrame(draft, card)
  return { draft: ours, turning: turningOf(ours) }
}
