import { z } from 'zod'
import { day, line, lines, parseForm, requiredLine, type Parsed } from '../form.ts'

const WORDS = 4000

export const decisionSchema = z.object({
  question: requiredLine('Please say what had to be decided.', 300),
  decided: lines(WORDS).refine((text) => text !== '', 'Please say what was decided.'),
  evidence: lines(WORDS),
  considered: lines(WORDS),
  onDay: day().transform((typed, check) => {
    if (typed === undefined) check.addIssue({ code: 'custom', message: 'Please give the day.' })
    return typed ?? ''
  }),
  decidedBy: line(200),
})

export type DecisionForm = z.output<typeof decisionSchema>
export type DecisionEntered = Record<keyof DecisionForm, string>

export const readDecisionForm = (body: unknown): Parsed<DecisionForm, DecisionEntered> =>
  parseForm(body, decisionSchema)
