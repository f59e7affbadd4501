import { type ConventionView, conventionView } from '../convention/view.ts'
import { sayLeftOut } from '../../shared/draft/entry/say-entry.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { THREADING_LEGEND } from '../../shared/draft/picture/threading-picture.ts'
import { TWIST_LEGEND } from '../../shared/draft/picture/twist-trace.ts'
import { writeThreading } from '../../shared/draft/threading-text.ts'
import { renderNote } from '../markdown.ts'
import { hiddenName } from '../rights/allowed.ts'
import { type Html, type PageHead, toHtml } from '../pages.ts'
import type { CheckLine } from '../../shared/draft/entry/check-line.ts'
import type { SharingView } from '../sharing/view.ts'
import { type BandView, bandView } from './band-view.ts'
import { lookOver } from './look-over.ts'
import { drawPicture, type PictureKind, pictureVersion } from './picture.ts'
import type { NotebookDraft, PieceOfDraft } from './queries.ts'
import type { Revision, RevisionSummary } from './revision-queries.ts'
import { USUAL_SIZE } from './size.ts'
import { listTurningRows, type TurningRow } from './turning-rows.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft/show': DraftShowPage
  }
}

interface DraftShowPage extends PageHead {
  readonly id: number
  readonly revisionId: number
  readonly number: number
  readonly heading: string
  readonly kicker: string
  readonly lead: string
  /** Without a path where the viewer may not see it. */
  readonly original: { readonly path: string; readonly name: string } | ''
  /** When an older revision is shown: the newest one's number. */
  readonly newerNumber: number | ''
  readonly band: BandView
  readonly checks: readonly CheckLine[]
  readonly counts: readonly { label: string; value: string }[]
  readonly threading: { readonly picture: Html; readonly legend: string; readonly text: string }
  readonly twist: { readonly picture: Html; readonly legend: string; readonly leftOut: string }
  readonly turning: readonly TurningRow[]
  readonly turningLeftOut: string
  readonly colours: readonly { key: string; name: string; hex: string; isWeft: boolean }[]
  readonly convention: ConventionView
  readonly notes: Html | ''
  readonly revisions: readonly { number: number; note: string; size: string; day: string; isShown: boolean }[]
  readonly pieces: readonly { path: string; name: string; about: string }[]
  readonly hasHistory: boolean
  readonly mayWeave: boolean
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
}

interface Shown {
  readonly draft: NotebookDraft
  readonly revision: Revision
  readonly revisions: readonly RevisionSummary[]
  readonly pieces: readonly PieceOfDraft[]
  /** What the viewer may do: begin a piece, change the draft, delete it. */
  readonly mayWeave: boolean
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
  /** Of the address: the size that the reader asked for. */
  readonly query: unknown
  readonly notice: string
}

export function draftShowPage({ draft, revision, revisions, pieces, query, notice, ...may }: Shown): DraftShowPage {
  const { checks, counts, turning } = lookOver(revision.draft)
  const { rows, leftOut } = listTurningRows(turning)
  const beyond = leftOut + revision.picks - turning.picks
  const newest = revisions[0]!.number
  const address = pictureAddress(revision)
  const { number } = revision
  const drawable = { draft: revision.draft, turning }
  // Their writing takes the colour of the page, so they stand in it: an image of its own knows no dark scheme.
  const inPage = (kind: 'threading' | 'twist') => toHtml(drawPicture(kind, drawable, USUAL_SIZE, { idPrefix: kind }))
  return {
    title: number === newest ? draft.title : `${draft.title}, revision ${number}`,
    section: 'drafts',
    ...may,
    notice,
    id: draft.id,
    revisionId: revision.id,
    number,
    heading: draft.title,
    kicker: newest === 1 ? 'Draft' : `Draft, revision ${number} of ${newest}`,
    lead: `${sayCount(revision.tablets, 'tablet')}, ${sayCount(revision.picks, 'pick')} in the repeat`,
    original: originalOf(draft),
    newerNumber: number === newest ? '' : newest,
    band: bandView(revision, query, address),
    checks,
    counts,
    threading: {
      picture: inPage('threading'),
      legend: THREADING_LEGEND,
      text: writeThreading(revision.draft.tablets),
    },
    twist: { picture: inPage('twist'), legend: TWIST_LEGEND, leftOut: sayLeftOut(drawable) },
    turning: rows,
    turningLeftOut: beyond === 0 ? '' : `${sayCount(beyond, 'further pick')} stand in the document only.`,
    colours: Object.entries(revision.draft.colours).map(([key, { name, hex }]) => ({
      ...{ key, name, hex },
      isWeft: key === revision.draft.weft,
    })),
    convention: conventionView({ written: draft.written, note: draft.conventionNote }),
    notes: draft.notes && renderNote(draft.notes),
    revisions: revisions.map((one) => ({
      number: one.number,
      note: one.note,
      size: `${sayCount(one.tablets, 'tablet')}, ${sayCount(one.picks, 'pick')}`,
      day: one.createdAt.slice(0, 10),
      isShown: one.number === number,
    })),
    pieces: pieces.map((piece) => ({
      path: `/pieces/${piece.id}`,
      name: piece.name,
      about: [piece.maker, newest > 1 && `revision ${piece.number}`].filter(Boolean).join(', '),
    })),
    hasHistory: newest > 1,
  }
}

function originalOf({ originalId, originalName }: NotebookDraft): DraftShowPage['original'] {
  if (originalId === undefined) return ''
  if (originalName === '') return { path: '', name: hiddenName('original') }
  return { path: `/originals/${originalId}`, name: originalName }
}

/** The address of a picture of this revision, with the version that lets it be kept for ever. */
export function pictureAddress({ draftId, number, document }: Pick<Revision, 'draftId' | 'number' | 'document'>) {
  return (kind: PictureKind, query: Readonly<Record<string, string>> = {}): string =>
    `/drafts/${draftId}/revisions/${number}/${kind}.svg?${new URLSearchParams({ ...query, v: pictureVersion(document) }).toString()}`
}
