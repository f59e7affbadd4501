import { z } from 'zod'
import type { SittingLimits } from '../../shared/work/step-gap.ts'
import { line, parseForm, wholeNumber, type Parsed } from '../form.ts'

const limitsSchema = z.object({
  breakMinutes: wholeNumber(1, 60).transform((typed, check) => {
    if (typed === undefined) check.addIssue({ code: 'custom', message: 'Please give the minutes.' })
    return typed ?? 0
  }),
  endMinutes: wholeNumber(1, 720).transform((typed, check) => {
    if (typed === undefined) check.addIssue({ code: 'custom', message: 'Please give the minutes.' })
    return typed ?? 0
  }),
  forAll: line(10),
})

export type LimitsEntered = Record<keyof z.output<typeof limitsSchema>, string>

export function readLimitsForm(body: unknown): Parsed<SittingLimits & { readonly forAll: boolean }, LimitsEntered> {
  const typed = parseForm(body, limitsSchema)
  if (!typed.ok) return typed
  const { breakMinutes, endMinutes, forAll } = typed.value
  if (endMinutes < breakMinutes) {
    const entered = { breakMinutes: String(breakMinutes), endMinutes: String(endMinutes), forAll }
    return { ok: false, entered, problems: { endMinutes: `This must not be less than ${breakMinutes}.` } }
  }
  return { ok: true, value: { breakMinutes, endMinutes, forAll: forAll !== '' } }
}
