import type { Colour, ColourKey } from '../../shared/draft/draft.ts'
import { CAUTIONS } from '../caution.ts'
import type { RevisionChoice } from '../draft/revision-queries.ts'
import { formFields, problemList, type FieldSpec, type FieldView, type OptionView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { ShelfLot } from '../yarn/queries.ts'
import { PIECE_DAYS, type PieceEntered } from './form.ts'
import type { Piece } from './queries.ts'
import { YARN_ROLES, type YarnEntered, type YarnProblems } from './yarn-form.ts'
import { yarnRowsView, type YarnRowView } from './yarn-view.ts'

declare module '../pages.ts' {
  interface Pages {
    'piece/edit': PieceEditPage
  }
}

interface PieceEditPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof PieceEntered, FieldView>
  /** The draft revisions, those of a draft together. */
  readonly revisions: readonly { label: string; options: readonly OptionView[] }[]
  readonly roles: readonly string[]
  readonly rows: readonly YarnRowView[]
  readonly colours: readonly { key: string; name: string; hex: string }[]
  /** About loads. */
  readonly caution: string
  readonly problems: readonly { href: string; text: string }[]
}

/** What the lists of the form offer, and the colours of the draft chosen in it. */
export interface PieceLists {
  readonly originals: readonly { id: number; name: string; inventoryNumber: string }[]
  readonly revisions: readonly RevisionChoice[]
  readonly colours: Readonly<Record<ColourKey, Colour>>
  readonly lots: readonly ShelfLot[]
}

export interface PieceTyped {
  readonly entered: PieceEntered
  readonly rows: readonly YarnEntered[]
  readonly problems?: Problems<PieceEntered>
  readonly rowProblems?: readonly YarnProblems[]
}

const dayField = (label: string, hint = ''): FieldSpec => ({ label, type: 'date', ...(hint ? { hint } : {}) })

const fieldSpecs = (originals: PieceLists['originals']): Record<keyof PieceEntered, FieldSpec> => ({
  name: { label: 'Name', required: true },
  maker: { label: 'Maker' },
  forWhom: { label: 'For whom' },
  original: {
    label: 'Original that it follows',
    options: [
      ['', 'None: own design'],
      ...originals.map(
        ({ id, name, inventoryNumber }) => [String(id), [name, inventoryNumber].filter(Boolean).join(', ')] as const,
      ),
    ],
  },
  revision: { label: 'Draft' },
  plannedOn: dayField(PIECE_DAYS.plannedOn),
  onLoomOn: dayField(PIECE_DAYS.onLoomOn),
  wovenOn: dayField(PIECE_DAYS.wovenOn),
  finishedOn: dayField(PIECE_DAYS.finishedOn),
  setAsideOn: dayField(PIECE_DAYS.setAsideOn),
  setAsideReason: { label: 'Why it was set aside' },
  notes: { label: 'Notes', rows: 8, hint: 'Markdown: *emphasis*, - lists, > quotations.' },
  wentWrong: {
    label: 'What went wrong',
    rows: 5,
    hint: 'Slips, broken threads, what you would do otherwise. Markdown too.',
  },
})

export const BLANK_PIECE: PieceEntered = {
  ...{ name: '', maker: '', forWhom: '', original: '', revision: '', plannedOn: '', onLoomOn: '', wovenOn: '' },
  ...{ finishedOn: '', setAsideOn: '', setAsideReason: '', notes: '', wentWrong: '' },
}

/** New, edit and shown again: one page, so that none forgets a field. */
export function pieceEditPage(
  piece: Pick<Piece, 'id' | 'name'> | undefined,
  typed: PieceTyped,
  lists: PieceLists,
): PieceEditPage {
  const { entered, rows, problems = {}, rowProblems = [] } = typed
  const fields = formFields(fieldSpecs(lists.originals), entered, problems)
  const yarns = yarnRowsView(rows, rowProblems, lists.colours, lists.lots)
  return {
    title: piece ? `Edit piece: ${piece.name}` : 'New piece',
    section: 'pieces',
    action: piece ? `/pieces/${piece.id}` : '/pieces',
    back: piece ? `/pieces/${piece.id}` : '/pieces',
    fields,
    revisions: toGroups(lists.revisions, entered.revision),
    roles: YARN_ROLES,
    rows: yarns.rows,
    colours: yarns.colours,
    caution: CAUTIONS.load.text,
    problems: [...problemList(fields), ...yarns.problems],
  }
}

function toGroups(revisions: PieceLists['revisions'], chosen: string): PieceEditPage['revisions'] {
  const groups = new Map<number, { label: string; options: OptionView[] }>()
  for (const { id, draftId, title, number } of revisions) {
    const group = groups.get(draftId) ?? { label: title, options: [] }
    groups.set(draftId, group)
    const label = number === undefined ? title : `${title}, revision ${number}`
    group.options.push({ value: String(id), label, selected: String(id) === chosen })
  }
  return [...groups.values()]
}

/** A piece as it would be typed. */
export function typedPiece(piece: Piece): PieceEntered {
  const { name, maker, forWhom, setAsideReason, notes, wentWrong, plannedOn = '', onLoomOn = '' } = piece
  const { wovenOn = '', finishedOn = '', setAsideOn = '', originalId, draftRevisionId } = piece
  return {
    ...{ name, maker, forWhom, setAsideReason, notes, wentWrong, plannedOn, onLoomOn, wovenOn, finishedOn, setAsideOn },
    original: originalId === undefined ? '' : String(originalId),
    revision: draftRevisionId === undefined ? '' : String(draftRevisionId),
  }
}
