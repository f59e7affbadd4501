import { z } from 'zod'
import { COLOUR_KEY } from '../../shared/draft/document-shape.ts'
import { readObserved, writeObserved } from '../../shared/draft/infer/observed-text.ts'
import { marksShape } from '../observed/form.ts'
import type { ArchiveRecord } from './record.ts'
import { text } from './value.ts'

// What the fields of an observed face may hold: word for word as the program writes them.

const key = z.string().regex(COLOUR_KEY, 'This is no key of a colour.')
const colour = z.strictObject({ name: text(200), hex: z.string().regex(/^#[0-9a-f]{6}$/, 'This is no colour.') })
const colours = z.record(key, colour)
const differing = z.array(z.strictObject({ pick: z.int().min(1), tablet: z.int().min(1), seen: key, drafted: key }))

/** JSON as text, of this shape; with `orEmpty` also none. */
const jsonText = (shape: z.ZodType, orEmpty = false) =>
  z
    .string()
    .max(8_000_000)
    .refine((typed) => (orEmpty && typed === '') || fits(shape, typed), 'This is not what an observed face holds.')

function fits(shape: z.ZodType, typed: string): boolean {
  try {
    return shape.safeParse(JSON.parse(typed)).success
  } catch {
    return false
  }
}

export const observedColours = () => jsonText(colours)
export const observedMarks = () => jsonText(marksShape, true)
export const observedDiffering = () => jsonText(differing, true)
export const observedCells = () =>
  z
    .string()
    .max(40_000_000)
    .refine((typed) => {
      const read = readObserved(typed)
      return read.ok && writeObserved(read.observed) === typed
    }, 'This is no observed face as the program writes one.')

/** What is wrong between the fields of one. */
export function observedProblem({
  colours: listed,
  cells,
  differing: cellsApart,
  draftRevision,
}: ArchiveRecord): string {
  const known = JSON.parse(String(listed)) as Record<string, unknown>
  const read = readObserved(String(cells))
  const keys = read.ok ? read.observed.cells.flat() : []
  if (keys.some((one) => one !== null && !Object.hasOwn(known, one))) return 'a colour is seen that is not in its list.'
  return draftRevision !== null && cellsApart === '' ? 'it names a draft but says nothing of what differs.' : ''
}
