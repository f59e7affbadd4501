import type { Draft } from '../../shared/draft/draft.ts'
import { endsOf } from '../../shared/draft/ends.ts'
import { sayLeftOut } from '../../shared/draft/entry/say-entry.ts'
import { longestFloat } from '../../shared/draft/floats.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { countDistinctPicks, listPacks } from '../../shared/draft/packs.ts'
import { THREADING_LEGEND } from '../../shared/draft/picture/threading-picture.ts'
import { TWIST_LEGEND } from '../../shared/draft/picture/twist-trace.ts'
import { writeThreading } from '../../shared/draft/threading-text.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import type { Turning, Woven } from '../../shared/draft/woven.ts'
import { renderNote } from '../markdown.ts'
import { type Html, type PageHead, toHtml } from '../pages.ts'
import { type CheckLine, listCheckLines } from '../../shared/draft/entry/check-line.ts'
import { type BandView, bandView } from './band-view.ts'
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
  readonly notes: Html | ''
  readonly revisions: readonly { number: number; note: string; size: string; day: string; isShown: boolean }[]
  readonly pieces: readonly { path: string; name: string; about: string }[]
  readonly hasHistory: boolean
}

interface Shown {
  readonly draft: NotebookDraft
  readonly revision: Revision
  readonly revisions: readonly RevisionSummary[]
  readonly pieces: readonly PieceOfDraft[]
  /** Of the address: the size that the reader asked for. */
  readonly query: unknown
  readonly notice: string
}

export function draftShowPage({ draft, revision, revisions, pieces, query, notice }: Shown): DraftShowPage {
  const turning = turningOf(revision.draft)
  const woven = weave(revision.draft, turning)
  const { rows, leftOut } = listTurningRows(turning)
  const newest = revisions[0]!.number
  const address = pictureAddress(revision)
  const { number } = revision
  const drawable = { draft: revision.draft, turning }
  // Their writing takes the colour of the page, so they stand in it: an image of its own knows no dark scheme.
  const inPage = (kind: 'threading' | 'twist') => toHtml(drawPicture(kind, drawable, USUAL_SIZE, { idPrefix: kind }))
  return {
    title: number === newest ? draft.title : `${draft.title}, revision ${number}`,
    section: 'drafts',
    notice,
    id: draft.id,
    revisionId: revision.id,
    number,
    heading: draft.title,
    kicker: newest === 1 ? 'Draft' : `Draft, revision ${number} of ${newest}`,
    lead: `${sayCount(revision.tablets, 'tablet')}, ${sayCount(revision.picks, 'pick')} in the repeat`,
    original:
      draft.originalId === undefined ? '' : { path: `/originals/${draft.originalId}`, name: draft.originalName },
    newerNumber: number === newest ? '' : newest,
    band: bandView(revision, query, address),
    checks: listCheckLines(revision.draft, turning, woven),
    counts: listCounts(revision.draft, turning, woven),
    threading: {
      picture: inPage('threading'),
      legend: THREADING_LEGEND,
      text: writeThreading(revision.draft.tablets),
    },
    twist: { picture: inPage('twist'), legend: TWIST_LEGEND, leftOut: sayLeftOut(drawable) },
    turning: rows,
    turningLeftOut: leftOut === 0 ? '' : `${sayCount(leftOut, 'further pick')} stand in the document only.`,
    colours: Object.entries(revision.draft.colours).map(([key, { name, hex }]) => ({
      ...{ key, name, hex },
      isWeft: key === revision.draft.weft,
    })),
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

/** The address of a picture of this revision, with the version that lets it be kept for ever. */
export function pictureAddress({ draftId, number, document }: Pick<Revision, 'draftId' | 'number' | 'document'>) {
  return (kind: PictureKind, query: Readonly<Record<string, string>> = {}): string =>
    `/drafts/${draftId}/revisions/${number}/${kind}.svg?${new URLSearchParams({ ...query, v: pictureVersion(document) }).toString()}`
}

function listCounts(draft: Draft, turning: Turning, woven: Woven): { label: string; value: string }[] {
  const packs = listPacks(turning)
  const float = longestFloat(draft, woven, { overSeam: true })
  const borders = draft.tablets.filter(({ part }) => part === 'border').length
  return [
    { label: 'Tablets', value: borders === 0 ? String(woven.tablets) : `${woven.tablets}, ${borders} of them border` },
    { label: 'Warp ends', value: String(endsOf(draft)) },
    { label: 'Picks in the repeat', value: String(woven.picks) },
    { label: 'Different picks', value: String(countDistinctPicks(turning)) },
    {
      label: 'Packs',
      value: packs.length === woven.tablets ? `${packs.length}: every tablet for itself` : String(packs.length),
    },
    { label: 'Longest float, face', value: sayFloat(float.face) },
    { label: 'Longest float, reverse', value: sayFloat(float.reverse) },
  ]
}

/** Woven again and again, a thread of a tablet that never turns floats without end. */
const sayFloat = (picks: number) =>
  Number.isFinite(picks) ? sayCount(picks, 'pick') : 'without end: a thread never changes side'
