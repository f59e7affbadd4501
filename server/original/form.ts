import { z } from 'zod'
import { line, lines, parseForm, requiredLine, type Parsed } from '../form.ts'
import { note } from '../markdown.ts'
import { readDating } from './dating.ts'

export const originalSchema = z.object({
  name: requiredLine('Please give the original a name; the inventory number will do.'),
  otherNames: lines(2000),
  holder: line(),
  inventoryNumber: line(120),
  findPlace: line(),
  findContext: line(),
  date: z.string().transform((text, check) => {
    if (text.trim() === '') return undefined
    const read = readDating(text)
    if (read.ok) return read.dating
    check.addIssue({ code: 'custom', message: read.message })
    return undefined
  }),
  technique: line(),
  preservation: lines(2000),
  notes: note(),
})

export type OriginalForm = z.output<typeof originalSchema>
export type OriginalEntered = Record<keyof OriginalForm, string>

export const readOriginalForm = (body: unknown): Parsed<OriginalForm, OriginalEntered> =>
  parseForm(body, originalSchema)
