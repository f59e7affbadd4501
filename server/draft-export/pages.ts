import { sayUnsaid } from '../../shared/draft/convention/say.ts'
import { toDecimals } from '../../shared/measure/rounding.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import type { NotebookDraft } from '../draft/queries.ts'
import type { Revision } from '../draft/revision-queries.ts'
import { DEFAULT_PICK_HEIGHT_MM, DEFAULT_TABLET_WIDTH_MM } from '../draft/size.ts'
import { formFields, type FieldSpec, type FieldView, problemList } from '../field.ts'
import type { PageHead } from '../pages.ts'
import type { ExportEntered, ReadExport } from './choice.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft-export/show': DraftExportPage
  }
}

interface FileView {
  readonly path: string
  readonly label: string
  readonly about: string
}

interface DraftExportPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly heading: string
  readonly lead: string
  readonly files: readonly FileView[]
  readonly fields: Record<keyof ExportEntered, FieldView>
  readonly problems: readonly { href: string; text: string }[]
  /** Empty where the choice was refused. */
  readonly pictures: readonly FileView[]
  readonly size: string
}

const FIELDS: Record<keyof ExportEntered, FieldSpec> = {
  tabletWidthMm: { label: 'A tablet, mm', inputmode: 'decimal' },
  pickHeightMm: { label: 'A pick, mm', inputmode: 'decimal' },
  lengthMm: { label: 'Length, mm', inputmode: 'decimal' },
  dpi: { label: 'Dots per inch, of the PNG', inputmode: 'numeric' },
  lie: {
    label: 'It lies',
    options: [
      ['across', 'across, pick 1 at the left'],
      ['up', 'upright, pick 1 at the foot'],
    ],
  },
}

export function draftExportPage(draft: NotebookDraft, revision: Revision, read: ReadExport): DraftExportPage {
  const base = `/drafts/${draft.id}/revisions/${revision.number}`
  const fields = formFields(FIELDS, read.ok ? typedOf(read) : read.entered, read.ok ? {} : read.problems)
  return {
    title: `Export ${draft.title}`,
    section: 'drafts',
    action: `${base}/export`,
    back: base,
    heading: draft.title,
    lead: `Revision ${revision.number}: ${sayCount(revision.tablets, 'tablet')}, ${sayCount(revision.picks, 'pick')} in the repeat. Every file is in our own frame.${sayUnsaid(draft.written)}`,
    files: FILES.map(({ name, ...file }) => ({ path: `${base}/${name}`, ...file })),
    fields,
    problems: problemList(fields),
    ...picturesOf(base, read),
  }
}

const FILES = [
  {
    name: 'document.json',
    label: 'Draft document',
    about: 'JSON. All of the draft, for another notebook or a program.',
  },
  { name: 'draft.txt', label: 'Text form', about: 'All of the draft, as one reads and types it.' },
  {
    name: 'turns.csv',
    label: 'Table of turns',
    about: 'CSV. Colours, threading and every turn; comes back by import.',
  },
  { name: 'face.csv', label: 'Table of the face', about: 'CSV. The colour that shows, pick by pick.' },
  { name: 'reverse.csv', label: 'Table of the reverse', about: 'CSV. The same of the other side.' },
]

function typedOf({ value }: ReadExport & { ok: true }): ExportEntered {
  const { tabletWidthMm, pickHeightMm, lengthMm } = value.size
  return {
    ...{ tabletWidthMm: String(tabletWidthMm), pickHeightMm: String(pickHeightMm) },
    lengthMm: String(lengthMm),
    ...{ dpi: String(value.dpi), lie: value.lie },
  }
}

function picturesOf(base: string, read: ReadExport): Pick<DraftExportPage, 'pictures' | 'size'> {
  if (!read.ok) return { pictures: [], size: '' }
  const { size, lie, dpi, widthMm, heightMm, widthPx, heightPx } = read.value
  const { tabletWidthMm, pickHeightMm, lengthMm } = size
  const asked = { tabletWidthMm, pickHeightMm, lengthMm, lie }
  const query = new URLSearchParams(
    Object.entries(asked).map(([name, value]): [string, string] => [name, String(value)]),
  )
  const png = new URLSearchParams([...query, ['dpi', String(dpi)]])
  const isUsual = tabletWidthMm === DEFAULT_TABLET_WIDTH_MM && pickHeightMm === DEFAULT_PICK_HEIGHT_MM
  const why = isUsual ? ' A tablet and a pick are our usual proportions: nothing is measured here.' : ''
  const both = (side: 'face' | 'reverse', label: string) => [
    {
      path: `${base}/${side}.png?${png.toString()}`,
      label: `${label}, PNG`,
      about: `${widthPx} by ${heightPx} pixels.`,
    },
    { path: `${base}/${side}.svg?${query.toString()}`, label: `${label}, SVG`, about: 'Lines, sharp at every size.' },
  ]
  return {
    pictures: [...both('face', 'Face'), ...both('reverse', 'Reverse')],
    size: `${toDecimals(widthMm, 1)} by ${toDecimals(heightMm, 1)} mm. At ${dpi} dots per inch (${toDecimals(dpi / 25.4, 2)} a millimetre), which stands in the file, a program prints it at that size.${why}`,
  }
}
