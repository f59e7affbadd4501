import { z } from 'zod'
import { readDoi, readIsbn, readIssn, type IdentifierRead } from '../../shared/source/identifier.ts'
import type { SourceKind } from '../../shared/source/kind.ts'
import { choice, day, line, parseForm, requiredLine, type Parsed } from '../form.ts'
import { note } from '../markdown.ts'

export type { SourceKind } from '../../shared/source/kind.ts'

export const SOURCE_KINDS = {
  article: 'Article',
  book: 'Book',
  chapter: 'Chapter in a book',
  catalogue: 'Catalogue',
  report: 'Excavation or conservation report',
  thesis: 'Thesis',
  photograph: 'Photograph',
  website: 'Web page',
  letter: 'Letter or message',
  visit: 'Visit to the object',
  other: 'Something else',
} as const satisfies Record<SourceKind, string>
export const SOURCE_KIND_KEYS = Object.keys(SOURCE_KINDS) as SourceKind[]

/** A number that is only taken in its right form; kept as it was typed. */
const identifier = (most: number, read: (text: string) => IdentifierRead) =>
  line(most).superRefine((text, check) => {
    if (text === '') return
    const found = read(text)
    if (!found.ok) check.addIssue({ code: 'custom', message: found.problem })
  })

export const sourceSchema = z.object({
  title: requiredLine('Please give the source a title; for a visit or letter say whose and about what.', 600),
  people: line(2000),
  year: line(40),
  kind: choice(SOURCE_KIND_KEYS, 'Please choose what kind of source it is.'),
  container: line(600),
  pages: line(60),
  doi: line().transform((text, check) => {
    if (text === '') return ''
    const doi = readDoi(text)
    if (doi.ok) return doi.value
    check.addIssue({ code: 'custom', message: doi.problem })
    return text
  }),
  isbn: identifier(40, readIsbn),
  url: line(2000).refine(
    (text) => text === '' || isWebAddress(text),
    'Please give a web address that begins with http:// or https://.',
  ),
  editors: line(2000),
  volume: line(60),
  issue: line(60),
  publisher: line(),
  place: line(),
  edition: line(60),
  issn: identifier(30, readIssn),
  accessedOn: day().transform((on) => on ?? ''),
  citeKey: line(200),
  notes: note(),
})

export type SourceForm = z.output<typeof sourceSchema>
export type SourceEntered = Record<keyof SourceForm, string>

/** A source of which nothing is known yet. */
export const BLANK_SOURCE: SourceForm = {
  ...{ title: '', people: '', year: '', kind: 'article', container: '', pages: '', doi: '', isbn: '', url: '' },
  ...{ editors: '', volume: '', issue: '', publisher: '', place: '', edition: '', issn: '', accessedOn: '' },
  ...{ citeKey: '', notes: '' },
}

export const readSourceForm = (body: unknown): Parsed<SourceForm, SourceEntered> => parseForm(body, sourceSchema)

function isWebAddress(text: string): boolean {
  return URL.canParse(text) && /^https?:$/.test(new URL(text).protocol)
}
