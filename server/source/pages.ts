import type { CslDate, CslName } from '../../shared/source/csl.ts'
import { writeNames } from '../../shared/source/name.ts'
import { writeYear } from '../../shared/source/year.ts'
import { referenceHtml } from '../citation/html.ts'
import { STYLES, type StyleKey } from '../citation/style.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import { renderNote } from '../markdown.ts'
import type { Html, PageHead } from '../pages.ts'
import { FORMAT_KEYS, FORMATS } from '../source-export/write.ts'
import type { SharingView } from '../sharing/view.ts'
import { SOURCE_KIND_KEYS, SOURCE_KINDS, type SourceEntered } from './form.ts'
import type { Source } from './queries.ts'
import { toReference } from './reference.ts'

declare module '../pages.ts' {
  interface Pages {
    'source/show': SourceShowPage
    'source/edit': SourceEditPage
  }
}

interface SourceShowPage extends PageHead {
  readonly id: number
  /** As the reader's style prints it in a bibliography; in plain words while it is not printed yet. */
  readonly reference: Html | string
  /** How a text cites it; empty while it is not printed yet. */
  readonly cited: Html | ''
  readonly styleLabel: string
  readonly kind: string
  /** Identifiers that lead somewhere, with their address; an empty address is plain text. */
  readonly identifiers: readonly { label: string; text: string; href: string }[]
  /** What came with it from a file, and no field holds. */
  readonly others: readonly { label: string; text: string }[]
  readonly notes: Html | ''
  readonly files: readonly { label: string; path: string }[]
  /** Where it is cited: each original or piece with the claims that name it. */
  readonly citations: readonly {
    readonly path: string
    readonly name: string
    readonly claims: readonly {
      readonly path: string
      readonly text: string
      readonly locator: string
      readonly cited: Html | ''
    }[]
  }[]
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
}

interface SourceEditPage extends PageHead {
  /** Where the form goes, and where "leave it" leads. */
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof SourceEntered, FieldView>
  /** Whether something stands, or is wrong, in the fields that are folded away. */
  readonly hasMore: boolean
  readonly problems: readonly { href: string; text: string }[]
}

const FIELDS: Record<keyof SourceEntered, FieldSpec> = {
  title: { label: 'Title', required: true },
  people: {
    label: 'Authors, editors, or whom you asked',
    hint: 'Family name first, as in “Oss, Rolf; Visser, A. (ed.)”. A name without a comma is taken as an institution.',
  },
  year: {
    label: 'Year',
    hint: 'As printed: 1987, 1987–89, c. 1890. For a visit or letter the day, such as 2026-03-14.',
  },
  kind: { label: 'Kind', options: SOURCE_KIND_KEYS.map((key) => [key, SOURCE_KINDS[key]] as const) },
  container: { label: 'Journal, book or series it stands in' },
  pages: { label: 'Pages' },
  doi: { label: 'DOI', hint: 'It has no check digit: only its form is looked at.' },
  isbn: { label: 'ISBN', hint: 'With 10 or 13 digits; the check digit is looked at.' },
  url: { label: 'Web address', type: 'url' },
  editors: { label: 'Editors of the book it stands in', hint: 'As above: “Visser, Ada; Oss, Rolf”.' },
  volume: { label: 'Volume' },
  issue: { label: 'Issue, or number', hint: 'Of the journal, of the report, or in the series.' },
  publisher: { label: 'Publisher', hint: 'Of a thesis the university.' },
  place: { label: 'Place' },
  edition: { label: 'Edition', hint: 'Such as 2.' },
  issn: { label: 'ISSN' },
  accessedOn: { label: 'Day you looked at the address', type: 'date' },
  citeKey: { label: 'Key in a file of sources', hint: 'What BibTeX calls it by; empty lets the program choose.' },
  notes: { label: 'Your own notes', rows: 8, hint: 'Markdown: *emphasis*, - lists, > quotations.' },
}

/** What a full citation asks for beside the first fields; folded away while nothing stands in it. */
const MORE = ['editors', 'volume', 'issue', 'publisher', 'place', 'edition', 'issn', 'accessedOn', 'citeKey'] as const

/** New, edit and shown again: one page, so that none forgets a field. */
export function sourceEditPage(
  source: Pick<Source, 'id' | 'title'> | undefined,
  entered: SourceEntered,
  problems: Problems<SourceEntered> = {},
): SourceEditPage {
  const fields = formFields(FIELDS, entered, problems)
  return {
    title: source ? `Edit source: ${source.title}` : 'New source',
    section: 'sources',
    action: source ? `/sources/${source.id}` : '/sources',
    back: source ? `/sources/${source.id}` : '/sources',
    fields,
    hasMore: MORE.some((name) => fields[name].value !== '' || fields[name].problem !== ''),
    problems: problemList(fields),
  }
}

export interface SourceFacts {
  readonly style: StyleKey
  readonly printed: { readonly entry: string; readonly citation: string } | undefined
  readonly citations: SourceShowPage['citations']
}

export function sourceShowPage(
  source: Source,
  { style, printed, citations }: SourceFacts,
  may: Pick<SourceShowPage, 'mayEdit' | 'mayOwn' | 'sharing'>,
  notice: string,
): SourceShowPage {
  return {
    title: source.title,
    section: 'sources',
    ...may,
    notice,
    id: source.id,
    reference: printed && printed.entry !== '' ? referenceHtml(printed.entry) : toReference(source),
    cited: printed && printed.citation !== '' ? referenceHtml(printed.citation) : '',
    styleLabel: STYLES[style].label,
    kind: SOURCE_KINDS[source.kind],
    identifiers: [
      { label: 'DOI', text: source.doi, href: source.doi && doiAddress(source.doi) },
      { label: 'ISBN', text: source.isbn, href: '' },
      { label: 'ISSN', text: source.issn, href: '' },
      { label: 'Web address', text: source.url, href: source.url },
    ].filter((identifier) => identifier.text !== ''),
    others: Object.entries(source.other).map(([key, value]) => ({
      label: labelOfVariable(key),
      text: sayVariable(value),
    })),
    notes: source.notes && renderNote(source.notes),
    files: FORMAT_KEYS.map((format) => ({
      label: FORMATS[format].label,
      path: `/sources/export?format=${format}&source=${source.id}`,
    })),
    citations,
  }
}

/** `original-date` and `journalAbbreviation` as a reader is told them. */
function labelOfVariable(key: string): string {
  const words = key
    .replace(/[-_]/g, ' ')
    .replace(/([a-z])([A-Z])/g, (_, before: string, letter: string) => `${before} ${letter.toLowerCase()}`)
  return words.charAt(0).toUpperCase() + words.slice(1)
}

function sayVariable(value: unknown): string {
  if (Array.isArray(value)) return writeNames(value as CslName[])
  return typeof value === 'object' && value !== null ? writeYear(value as CslDate) : String(value)
}

/** Older DOIs have # and ? in them, which would end the path of an address. */
const doiAddress = (doi: string) => `https://doi.org/${encodeURI(doi).replace(/[#?]/g, encodeURIComponent)}`
