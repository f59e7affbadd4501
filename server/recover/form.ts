import { z } from 'zod'
import { HOLES } from '../../shared/draft/draft.ts'
import type { SeenOnTop } from '../../shared/draft/recover.ts'
import { parseForm, type Parsed } from '../form.ts'

export type RecoverEntered = Record<'pick' | 'tablet' | 'topNear' | 'topFar' | 'rightUntil', string>

/**
 * Which pick, which tablet, what is on top.
 * @param picks, tablets of the draft
 */
export function readRecoverForm(query: unknown, picks: number, tablets: number): Parsed<SeenOnTop, RecoverEntered> {
  const hole = z
    .string()
    .refine((text) => (HOLES as readonly string[]).includes(text), 'Please say which letter is there.')
  const form = parseForm(
    query,
    z.object({
      pick: numberFrom(1, picks),
      tablet: numberFrom(1, tablets),
      topNear: hole,
      topFar: hole,
      rightUntil: z.string().trim(),
    }),
  )
  if (!form.ok) return form
  const { pick, tablet, topNear, topFar, rightUntil } = form.value
  const seen = { pick: Number(pick), tablet: Number(tablet), topNear: topNear as 'A', topFar: topFar as 'A' }
  if (rightUntil === '') return { ok: true, value: seen }
  const problem = isFrom(rightUntil, 0, seen.pick - 1)
    ? ''
    : `Please type a pick before ${seen.pick}, or 0 for the start.`
  if (problem) return { ok: false, entered: form.value, problems: { rightUntil: problem } }
  return { ok: true, value: { ...seen, rightUntil: Number(rightUntil) } }
}

const isFrom = (text: string, least: number, most: number) =>
  /^\d{1,6}$/.test(text) && Number(text) >= least && Number(text) <= most

const numberFrom = (least: number, most: number) =>
  z
    .string()
    .trim()
    .refine((text) => isFrom(text, least, most), `Please type a whole number from ${least} to ${most}.`)
