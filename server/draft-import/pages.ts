import { sayChanges } from '../../shared/draft/convention/say.ts'
import { DYE_HEX } from '../../shared/draft/entry/colour-text.ts'
import { boundDraft } from '../../shared/draft/entry/bound.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { writeObserved } from '../../shared/draft/infer/observed-text.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { blankConvention } from '../convention/form.ts'
import { type ConventionFormView, conventionFormView, conventionProblems } from '../convention/view.ts'
import { previewOf } from '../draft/preview.ts'
import type { CheckLine } from '../../shared/draft/entry/check-line.ts'
import { formFields, type FieldView } from '../field.ts'
import type { Html, PageHead } from '../pages.ts'
import { FORMATS, type ImportForm, type ImportProblem } from './form.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft-import/show': DraftImportPage
  }
}

/** What was read, before anything of it is kept. */
interface LookedView {
  readonly kind: 'draft' | 'face'
  readonly title: string
  readonly size: string
  readonly face: Html | ''
  readonly leftOut: string
  readonly checks: readonly CheckLine[]
  /** What the convention card changed; empty without one. */
  readonly changes: readonly string[]
  /** Goes on to the page that works a draft out of a face. */
  readonly hidden: readonly { name: string; value: string }[]
}

interface DraftImportPage extends PageHead {
  readonly document: string
  readonly fields: Record<'format' | 'title', FieldView>
  readonly convention: ConventionFormView
  readonly places: readonly ImportProblem[]
  readonly problems: readonly { href: string; text: string }[]
  readonly looked: LookedView | ''
  readonly lookedKey: string
  /** Somebody changed the form after looking, and asked to keep it. */
  readonly hasChanged: boolean
}

const BLANK: Pick<ImportForm, 'entered' | 'convention' | 'problems' | 'value' | 'looked'> = {
  entered: { document: '', format: '', title: '', looked: '', keep: '' },
  convention: blankConvention(),
  problems: [],
  value: undefined,
  looked: '',
}

export function draftImportPage(form: typeof BLANK = BLANK, hasChanged = false): DraftImportPage {
  const { entered, problems } = form
  const specs = {
    format: { label: 'What it is', options: FORMATS },
    title: { label: 'Title', hint: 'For a text or a table that has none of its own.' },
  }
  return {
    title: 'Import a draft',
    section: 'drafts',
    scripts: ['draft-import'],
    document: entered.document,
    fields: formFields(specs, entered),
    convention: conventionFormView(form.convention),
    places: problems,
    problems: [
      ...problems.map(({ place, message }) => ({
        href: '#f-document',
        text: place ? `${place}: ${message}` : message,
      })),
      ...conventionProblems(form.convention),
    ],
    looked: lookedView(form),
    lookedKey: form.value ? form.looked : '',
    hasChanged,
  }
}

function lookedView({ entered, value }: typeof BLANK): LookedView | '' {
  if (!value || value.imported.kind === 'picks') return ''
  const { imported, convention } = value
  const changes = convention.written.kind === 'card' ? sayChanges(convention.written.card) : []
  if (imported.kind === 'draft') {
    const draft = boundDraft(imported.draft)
    const { face, leftOut, checks } = previewOf({ ok: true, draft, turning: turningOf(draft) })
    const { tablets, picks, title } = imported.draft
    const size = `${sayCount(tablets.length, 'tablet')}, ${sayCount(picks.length, 'pick')}.`
    return { kind: 'draft', title, size, face, leftOut, checks, changes, hidden: [] }
  }
  const { cells, colours, keys } = imported.face
  const unseen = cells.flat().filter((key) => key === null).length
  const named = new Set(colours.map((line) => line.split(' ')[0]))
  const lines = [...colours, ...keys.filter((key) => !named.has(key)).map(colourLine)]
  const size = `${sayCount(cells[0]!.length, 'tablet')}, ${sayCount(cells.length, 'pick')}, ${sayCount(keys.length, 'colour')}: ${keys.join(', ')}. ${sayCount(unseen, 'cell')} not legible.`
  const hidden = {
    ...{ title: entered.title, colours: lines.join('\n'), observed: writeObserved({ cells }), fill: 'yes' },
  }
  return {
    ...{ kind: 'face', title: 'An observed face', size, face: '', leftOut: '', checks: [], changes },
    hidden: Object.entries(hidden).map(([name, text]) => ({ name, value: text })),
  }
}

/** A key that no row of the table names: its own name where that is a dye word, else a grey that asks to be changed. */
const colourLine = (key: string) => (Object.hasOwn(DYE_HEX, key) ? `${key} ${key}` : `${key} ${key} #8b847a`)
