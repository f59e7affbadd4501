import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import { renderNote } from '../markdown.ts'
import type { Html, PageHead } from '../pages.ts'
import type { SharingView } from '../sharing/view.ts'
import { SOURCE_KIND_KEYS, SOURCE_KINDS, type SourceEntered } from './form.ts'
import type { listCitations, Source } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'source/show': SourceShowPage
    'source/edit': SourceEditPage
  }
}

interface SourceShowPage extends PageHead {
  readonly id: number
  readonly reference: string
  readonly kind: string
  /** Identifiers that lead somewhere, with their address; an empty address is plain text. */
  readonly identifiers: readonly { label: string; text: string; href: string }[]
  readonly notes: Html | ''
  readonly citations: readonly { path: string; name: string; count: string }[]
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
}

interface SourceEditPage extends PageHead {
  /** Where the form goes, and where "leave it" leads. */
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof SourceEntered, FieldView>
  readonly problems: readonly { href: string; text: string }[]
}

const FIELDS: Record<keyof SourceEntered, FieldSpec> = {
  title: { label: 'Title', required: true },
  people: { label: 'Authors, editors, or whom you asked', hint: 'Family name first; separate several by a semicolon.' },
  year: { label: 'Year', hint: 'As printed; for a visit or letter the day.' },
  kind: { label: 'Kind', options: SOURCE_KIND_KEYS.map((key) => [key, SOURCE_KINDS[key]] as const) },
  container: { label: 'Journal, book or series it stands in' },
  pages: { label: 'Pages' },
  doi: { label: 'DOI' },
  isbn: { label: 'ISBN' },
  url: { label: 'Web address', type: 'url' },
  notes: { label: 'Your own notes', rows: 8, hint: 'Markdown: *emphasis*, - lists, > quotations.' },
}

export const BLANK_SOURCE: SourceEntered = {
  title: '',
  people: '',
  year: '',
  kind: 'article',
  container: '',
  pages: '',
  doi: '',
  isbn: '',
  url: '',
  notes: '',
}

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
    problems: problemList(fields),
  }
}

export function sourceShowPage(
  source: Source,
  citations: ReturnType<typeof listCitations>,
  may: Pick<SourceShowPage, 'mayEdit' | 'mayOwn' | 'sharing'>,
  notice: string,
): SourceShowPage {
  return {
    title: source.title,
    section: 'sources',
    ...may,
    notice,
    id: source.id,
    reference: toReference(source),
    kind: SOURCE_KINDS[source.kind],
    identifiers: [
      { label: 'DOI', text: source.doi, href: source.doi && doiAddress(source.doi) },
      { label: 'ISBN', text: source.isbn, href: '' },
      { label: 'Web address', text: source.url, href: source.url },
    ].filter((identifier) => identifier.text !== ''),
    notes: source.notes && renderNote(source.notes),
    citations: citations.map(({ kind, id, name, claims }) => ({
      path: `/${kind}s/${id}`,
      name,
      count: `${claims} ${claims === 1 ? 'claim' : 'claims'}`,
    })),
  }
}

/** Older DOIs have # and ? in them, which would end the path of an address. */
const doiAddress = (doi: string) => `https://doi.org/${encodeURI(doi).replace(/[#?]/g, encodeURIComponent)}`

/** Author, year, title, container, pages: what is known of it, in the order of a bibliography. */
export function toReference(source: Pick<Source, 'people' | 'year' | 'title' | 'container' | 'pages'>): string {
  const head = [source.people, source.year && `(${source.year})`].filter(Boolean).join(' ')
  const tail = [source.container, source.pages && `pp. ${source.pages}`].filter(Boolean).join(', ')
  return [head, source.title, tail].filter(Boolean).join('. ')
}
