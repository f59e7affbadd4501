import { z } from 'zod'
import { choice, line, parseForm, requiredLine, type Parsed } from '../form.ts'
import { LICENCES } from './licence.ts'

const schema = (today: string) =>
  z.object({
    caption: requiredLine(
      'Please say in a few words what is seen: it is read aloud to those who cannot see the picture.',
    ),
    part: line(120),
    credit: line(),
    licence: choice(
      LICENCES.map(({ key }) => key),
      'Please choose from the list.',
    ),
    takenOn: z
      .string()
      .trim()
      .refine(
        (text) => text === '' || isDate(text),
        'Please give a year, a month or a day, such as 2024, 2024-06 or 2024-06-30.',
      )
      .refine((text) => !isDate(text) || text <= today, 'That day has not come yet.')
      .transform((text) => (text === '' ? undefined : text)),
  })

export type PhotoForm = z.output<ReturnType<typeof schema>>
export type PhotoEntered = Record<keyof PhotoForm, string>

/** @param today `2026-03-14`: no photograph is taken after it */
export const readPhotoForm = (body: unknown, today: string): Parsed<PhotoForm, PhotoEntered> =>
  parseForm(body, schema(today))

/** A year, a month or a day: of an old print one often knows no more. */
function isDate(text: string): boolean {
  if (!/^\d{4}(-\d{2}(-\d{2})?)?$/.test(text)) return false
  const day = `${text}-01-01`.slice(0, 10)
  const date = new Date(`${day}T00:00:00Z`)
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(day)
}
