import { sayWritten } from '../../shared/draft/convention/say.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { workedMinutes } from '../../shared/work/pace.ts'
import { PIECE_STATUS_LABELS } from '../../shared/work/status.ts'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'
import type { ClaimsView } from '../claim/pages.ts'
import { renderNote } from '../markdown.ts'
import type { Html, PageHead } from '../pages.ts'
import type { TimerView } from '../hours/timer-view.ts'
import type { ObservedListView } from '../observed/view.ts'
import type { PhotosView } from '../photo/view.ts'
import { hiddenName } from '../rights/allowed.ts'
import { currentViewer } from '../rights/viewer.ts'
import type { SharingView } from '../sharing/view.ts'
import type { RepeatLength } from '../sitting/pace.ts'
import type { Sitting } from '../sitting/queries.ts'
import { workView, type WorkView } from '../sitting/view.ts'
import { PIECE_DAYS } from './form.ts'
import type { Piece } from './queries.ts'
import type { ShelfLot } from '../yarn/queries.ts'
import type { PieceYarn } from './yarn-form.ts'
import { toYarnViews, type YarnView } from './yarn-view.ts'

declare module '../pages.ts' {
  interface Pages {
    'piece/show': PieceShowPage
    'piece/delete': PieceDeletePage
  }
}

interface PieceShowPage extends PageHead {
  readonly id: number
  readonly status: string
  readonly maker: string
  readonly forWhom: string
  /** Without a path where the viewer may not see it. */
  readonly original: { readonly path: string; readonly name: string } | ''
  readonly draft:
    { readonly id: number; readonly number: number; readonly words: string; readonly written: string } | ''
  /** What is said in the place of a draft that the viewer may not see. */
  readonly hiddenDraft: string
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly mayCompare: boolean
  readonly sharing: SharingView
  readonly days: readonly { label: string; day: string }[]
  readonly setAsideReason: string
  readonly notes: Html | ''
  readonly wentWrong: Html | ''
  readonly yarns: readonly YarnView[]
  readonly photos: PhotosView
  readonly observed: ObservedListView
  readonly claims: ClaimsView
  readonly work: WorkView
  /** The viewer's running clock, and where one may be started at this piece. */
  readonly timer: TimerView
  /** How many sittings from the steps wait to be approved. */
  readonly waiting: string
}

interface PieceDeletePage extends PageHead {
  readonly id: number
  readonly name: string
  readonly goes: readonly string[]
}

/** What a piece is woven from, as its page names it. */
export interface PieceSubject {
  readonly original: { readonly id: number; readonly name: string } | undefined
  readonly revision:
    | {
        readonly draftId: number
        readonly title: string
        readonly number: number
        readonly draft: Draft
        readonly written: Written
      }
    | undefined
}

/** What is on record about a piece. */
export interface PieceRecord {
  readonly photos: PhotosView
  readonly observed: ObservedListView
  readonly yarns: readonly PieceYarn[]
  readonly lots: readonly ShelfLot[]
  readonly claims: ClaimsView
  readonly sittings: readonly Sitting[]
  readonly repeatLength: RepeatLength | undefined
  readonly timer: TimerView
  readonly waiting: number
}

export function pieceShowPage(
  piece: Piece,
  { original, revision }: PieceSubject,
  { photos, observed, yarns, lots, claims, sittings, repeatLength, timer, waiting }: PieceRecord,
  may: Pick<PieceShowPage, 'mayEdit' | 'mayOwn' | 'sharing'>,
  notice: string,
): PieceShowPage {
  return {
    title: piece.name,
    section: 'pieces',
    ...may,
    notice,
    id: piece.id,
    status: toStatusWords(piece),
    maker: piece.maker,
    // The makers alone are told, whoever else may see the piece.
    forWhom: may.mayEdit ? piece.forWhom : '',
    original: originalOf(piece, original),
    hiddenDraft: piece.draftRevisionId !== undefined && !revision ? hiddenName('draft') : '',
    // Other pieces stand in a list that is for who has signed in.
    mayCompare: currentViewer().kind !== 'anonymous',
    draft: revision
      ? {
          id: revision.draftId,
          number: revision.number,
          words: `${revision.title}, revision ${revision.number}`,
          written: sayWritten(revision.written),
        }
      : '',
    days: (Object.keys(PIECE_DAYS) as (keyof typeof PIECE_DAYS)[]).flatMap((name) => {
      const day = piece[name]
      return day === undefined ? [] : [{ label: PIECE_DAYS[name], day: dayInWords(day) }]
    }),
    setAsideReason: piece.setAsideReason,
    notes: piece.notes && renderNote(piece.notes),
    wentWrong: piece.wentWrong && renderNote(piece.wentWrong),
    yarns: toYarnViews(yarns, revision?.draft.colours ?? {}, lots),
    photos,
    observed,
    claims,
    timer,
    scripts: ['timer'],
    waiting: waiting === 0 ? '' : `${waiting} ${waiting === 1 ? 'sitting waits' : 'sittings wait'} to be approved`,
    work: workView(sittings, piece.maker, { draft: revision?.draft, length: repeatLength }, may.mayEdit),
  }
}

function originalOf({ originalId }: Piece, original: PieceSubject['original']): PieceShowPage['original'] {
  if (originalId === undefined) return ''
  return original
    ? { path: `/originals/${original.id}`, name: original.name }
    : { path: '', name: hiddenName('original') }
}

/** "on the loom since 1 March 2026": a state lasts since its day, an end came on it. */
function toStatusWords({ status: { status, on } }: Piece): string {
  const label = PIECE_STATUS_LABELS[status]
  const words = label.charAt(0).toUpperCase() + label.slice(1)
  if (on === undefined) return words
  return `${words} ${status === 'planned' || status === 'onLoom' ? 'since' : 'on'} ${dayInWords(on)}`
}

/** Names what would be lost before it is. */
export function pieceDeletePage(
  piece: Piece,
  gone: { readonly yarns: number; readonly claims: number; readonly sittings: readonly Sitting[] },
): PieceDeletePage {
  const { yarns, claims, sittings } = gone
  const worked = durationInWords(sittings.reduce((sum, sitting) => sum + workedMinutes(sitting), 0))
  const count = (n: number, noun: string) => (n === 0 ? '' : `${n} ${noun}${n === 1 ? '' : 's'}`)
  return {
    title: `Delete piece: ${piece.name}`,
    section: 'pieces',
    id: piece.id,
    name: piece.name,
    goes: [
      count(yarns, 'yarn'),
      claims === 0 ? '' : `${count(claims, 'claim')} about it, with what was measured`,
      sittings.length === 0 ? '' : `${count(sittings.length, 'sitting')}, ${worked} of work`,
    ].filter(Boolean),
  }
}
