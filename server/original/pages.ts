import type { ClaimsView } from '../claim/pages.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import { renderNote } from '../markdown.ts'
import type { Html, PageHead } from '../pages.ts'
import type { DecisionsView } from '../decision/view.ts'
import type { ObservedListView } from '../observed/view.ts'
import type { PhotosView } from '../photo/view.ts'
import type { SharingView } from '../sharing/view.ts'
import { toPhrase } from './dating.ts'
import type { OriginalEntered } from './form.ts'
import type { listDraftsOf, Original, WovenPiece } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'original/show': OriginalShowPage
    'original/edit': OriginalEditPage
  }
}

interface OriginalShowPage extends PageHead {
  readonly id: number
  readonly otherNames: readonly string[]
  readonly date: string
  /** The date in the notation it was typed in, for whoever cites it. */
  readonly edtf: string
  readonly facts: readonly { label: string; text: string }[]
  readonly notes: Html | ''
  readonly photos: PhotosView
  readonly observed: ObservedListView
  readonly decisions: DecisionsView
  readonly mayCreate: boolean
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
  readonly claims: ClaimsView
  readonly claimCount: string
  /** The first draft that can be drawn; a draft of it is not its photograph, and the page says so. */
  readonly face: { id: number; title: string; revision: number } | ''
  readonly drafts: readonly { id: number; title: string; size: string }[]
  readonly pieces: readonly { id: number; name: string; maker: string; status: string }[]
}

interface OriginalEditPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof OriginalEntered, FieldView>
  readonly dateExamples: readonly { typed: string; meaning: string }[]
  readonly problems: readonly { href: string; text: string }[]
}

const FIELDS: Record<keyof OriginalEntered, FieldSpec> = {
  name: { label: 'Name', required: true, hint: 'What you call it; the name that stands over its page.' },
  otherNames: { label: 'Other names', rows: 2, hint: 'One a line: as museums and authors call it.' },
  holder: { label: 'Holder', hint: 'Museum or person that keeps it.' },
  inventoryNumber: { label: 'Inventory number' },
  findPlace: { label: 'Find place' },
  findContext: { label: 'Context', hint: 'Grave, layer, building, or how it was handed down.' },
  date: { label: 'Date', hint: 'In EDTF, such as -0449~ for about 450 BCE. Empty if nothing is known.' },
  technique: { label: 'Technique' },
  preservation: { label: 'State of preservation', rows: 3 },
  notes: { label: 'Your own notes', rows: 8, hint: 'Markdown: *emphasis*, - lists, > quotations.' },
}

const DATE_EXAMPLES = [
  { typed: '1485', meaning: '1485' },
  { typed: '-0449~', meaning: 'about 450 BCE: years before the common era are one less, for there is a year 0' },
  { typed: '-04XX', meaning: 'between 500 and 401 BCE' },
  { typed: '0501/0600', meaning: '6th century CE' },
  { typed: '124X?', meaning: 'the 1240s, uncertain' },
  { typed: '0960~/0985', meaning: 'about 960 to 985 CE' },
  { typed: '../1520', meaning: '1520 or earlier' },
] as const

export const BLANK_ORIGINAL: OriginalEntered = {
  ...{ name: '', otherNames: '', holder: '', inventoryNumber: '', findPlace: '', findContext: '' },
  ...{ date: '', technique: '', preservation: '', notes: '' },
}

/** New, edit and shown again: one page, so that none forgets a field. */
export function originalEditPage(
  original: Pick<Original, 'id' | 'name'> | undefined,
  entered: OriginalEntered,
  problems: Problems<OriginalEntered> = {},
): OriginalEditPage {
  const phrase = toPhrase(entered.date.trim())
  const hint = `${FIELDS.date.hint}${phrase && !problems.date ? ` Now it reads: ${phrase}.` : ''}`
  const fields = formFields({ ...FIELDS, date: { ...FIELDS.date, hint } }, entered, problems)
  return {
    title: original ? `Edit original: ${original.name}` : 'New original',
    section: 'originals',
    action: original ? `/originals/${original.id}` : '/originals',
    back: original ? `/originals/${original.id}` : '/originals',
    fields,
    dateExamples: DATE_EXAMPLES,
    problems: problemList(fields),
  }
}

export function originalShowPage(
  original: Original,
  claims: ClaimsView,
  drafts: ReturnType<typeof listDraftsOf>,
  pieces: readonly WovenPiece[],
  may: Pick<OriginalShowPage, 'mayCreate' | 'mayEdit' | 'mayOwn' | 'sharing'>,
  { photos, observed, decisions }: Pick<OriginalShowPage, 'photos' | 'observed' | 'decisions'>,
  notice: string,
): OriginalShowPage {
  const number = claims.groups
    .flatMap((group) => group.blocks)
    .reduce((sum, block) => sum + block.claims.length + block.withdrawn.length, 0)
  return {
    title: original.name,
    section: 'originals',
    ...may,
    notice,
    id: original.id,
    otherNames: original.otherNames.split('\n').filter((name) => name !== ''),
    date: original.datePhrase,
    edtf: original.date,
    facts: [
      { label: 'Holder', text: original.holder },
      { label: 'Inventory number', text: original.inventoryNumber },
      { label: 'Find place', text: original.findPlace },
      { label: 'Context', text: original.findContext },
      { label: 'Technique', text: original.technique },
      { label: 'Preservation', text: original.preservation },
    ].filter((fact) => fact.text !== ''),
    notes: original.notes && renderNote(original.notes),
    photos,
    observed,
    decisions,
    claims,
    claimCount: number === 0 ? '' : number === 1 ? 'Its one claim goes with it.' : `Its ${number} claims go with it.`,
    face: drafts.flatMap(({ id, title, revision }) => (revision === null ? [] : [{ id, title, revision }]))[0] ?? '',
    drafts: drafts.map(({ id, title, convention, revision, tablets, picks }) => ({
      id,
      title,
      size:
        revision === null
          ? 'no revision yet'
          : `${tablets} tablets, ${picks} picks, revision ${revision}${convention === '' ? ', convention card not filled in' : ''}`,
    })),
    pieces: pieces.map((piece) => ({ id: piece.id, name: piece.name, maker: piece.maker, status: statusOf(piece) })),
  }
}

/** Where a piece stands, by what is true last. */
function statusOf(piece: WovenPiece): string {
  if (piece.setAsideOn) return `set aside ${piece.setAsideOn}`
  if (piece.finishedOn) return `finished ${piece.finishedOn}`
  if (piece.wovenOn) return `woven ${piece.wovenOn}`
  if (piece.onLoomOn) return `on the loom since ${piece.onLoomOn}`
  return 'planned'
}
