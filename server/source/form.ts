import { z } from 'zod'
import { choice, line, parseForm, requiredLine, type Parsed } from '../form.ts'
import { note } from '../markdown.ts'

export const SOURCE_KINDS = {
  article: 'Article',
  book: 'Book',
  chapter: 'Chapter in a book',
  catalogue: 'Catalogue',
  report: 'Excavation or conservation report',
  photograph: 'Photograph',
  website: 'Web page',
  letter: 'Letter or message',
  visit: 'Visit to the object',
  other: 'Something else',
} as const
export type SourceKind = keyof typeof SOURCE_KINDS
export const SOURCE_KIND_KEYS = Object.keys(SOURCE_KINDS) as SourceKind[]

export const sourceSchema = z.object({
  title: requiredLine('Please give the source a title; for a visit or letter say whose and about what.'),
  people: line(),
  year: line(40),
  kind: choice(SOURCE_KIND_KEYS, 'Please choose what kind of source it is.'),
  container: line(),
  pages: line(60),
  doi: line().transform((text, check) => {
    const doi = text.replace(/^(https?:\/\/(dx\.)?doi\.org\/|doi:\s*)/i, '')
    if (doi !== '' && !/^10\.\d{4,9}\/\S+$/.test(doi)) {
      check.addIssue({ code: 'custom', message: 'A DOI begins with 10. and has a slash, such as 10.1000/182.' })
    }
    return doi
  }),
  isbn: line(30).refine(
    (text) => text === '' || isIsbn(text),
    'The check digit of this ISBN does not fit; please look again.',
  ),
  url: line(2000).refine(
    (text) => text === '' || isWebAddress(text),
    'Please give a web address that begins with http:// or https://.',
  ),
  notes: note(),
})

export type SourceForm = z.output<typeof sourceSchema>
export type SourceEntered = Record<keyof SourceForm, string>

export const readSourceForm = (body: unknown): Parsed<SourceForm, SourceEntered> => parseForm(body, sourceSchema)

/** ISO 2108: weights 10 to 1 modulo 11 for ten digits, 1 and 3 modulo 10 for thirteen. */
export function isIsbn(text: string): boolean {
  const digits = text
    .replace(/^ISBN[:\s]*/i, '')
    .replace(/[\s-]/g, '')
    .toUpperCase()
  if (/^\d{9}[\dX]$/.test(digits)) {
    const sum = [...digits].reduce(
      (total, digit, index) => total + (10 - index) * (digit === 'X' ? 10 : Number(digit)),
      0,
    )
    return sum % 11 === 0
  }
  if (!/^97[89]\d{10}$/.test(digits)) return false
  return [...digits].reduce((total, digit, index) => total + Number(digit) * (index % 2 === 0 ? 1 : 3), 0) % 10 === 0
}

function isWebAddress(text: string): boolean {
  return URL.canParse(text) && /^https?:$/.test(new URL(text).protocol)
}
