import { z } from 'zod'
import { readDraft } from '../../shared/draft/document.ts'
import { type Inference, listMismatches } from '../../shared/draft/infer/infer.ts'
import type { InferRequest } from '../../shared/draft/infer/request.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { readEntered } from '../form.ts'

const count = z.number().int().min(0)
const places = z.array(count)
const digits = z.string().regex(/^[1-9]\d{0,6100}$/)
const shape = z.object({
  draft: z.unknown(),
  perTablet: z.array(
    z.object({
      ...{ tablet: count, mismatches: count, reversals: count, solutions: digits, threadingIsOpen: z.boolean() },
      ...{ turnDiffers: places, colourDiffers: places },
      decides: z.object({ pick: count, of: z.enum(['colour', 'slant']), leaves: digits }).nullable(),
    }),
  ),
})

/**
 * What the reader's own browser has worked out already, sent along with the form: it is only shown back to them, and
 * what can be checked is, so that the server need not do it again.
 * @returns undefined when nothing was sent, or nothing that fits the request: then it is worked out here
 */
export function readAnswer(body: unknown, { tablets, observed, weft }: InferRequest): Inference | undefined {
  const { answer } = readEntered(body, ['answer'])
  if (answer === '') return undefined
  let sent: unknown
  try {
    sent = JSON.parse(answer)
  } catch {
    return undefined
  }
  const parsed = shape.safeParse(sent)
  if (!parsed.success || parsed.data.perTablet.length !== tablets.length) return undefined
  const read = readDraft(parsed.data.draft)
  if (!read.ok || read.draft.tablets.length !== tablets.length || read.draft.picks.length !== observed.cells.length) {
    return undefined
  }
  const mismatches = listMismatches(read.draft, turningOf(read.draft), { observed, weft })
  return { draft: read.draft, mismatches, perTablet: parsed.data.perTablet }
}
