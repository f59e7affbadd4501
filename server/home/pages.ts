import { toDecimals } from '../../shared/measure/rounding.ts'
import { STAGE_LABELS } from '../../shared/work/stage.ts'
import { PIECE_STATUS_LABELS } from '../../shared/work/status.ts'
import type { PageHead } from '../pages.ts'
import { stripAddress } from '../draft-strip.ts'
import type { TimerView } from '../hours/timer-view.ts'
import { hiddenName, viewerIsKeeper, viewerMayCreate } from '../rights/allowed.ts'
import { toPhrase } from '../original/dating.ts'
import type { Counts, HeroDraft, MeasuredPiece, OnLoom, RecentOriginal } from './queries.ts'
import { stepsOf, type Step } from './step.ts'

declare module '../pages.ts' {
  interface Pages {
    'home/empty': EmptyPage
    'home/show': HomePage
  }
}

interface EmptyPage extends PageHead {
  /** Whether the viewer may record anything, and load the demo collection. */
  readonly mayCreate: boolean
  readonly mayLoadDemo: boolean
  readonly steps: readonly Step[]
}

interface Link {
  readonly text: string
  readonly path: string
}

interface HomePage extends PageHead {
  readonly counts: readonly (Link & { number: string })[]
  /** Empty while there is no draft. */
  readonly hero: { src: string; alt: string; title: string; path: string; size: string } | ''
  readonly onLoom: readonly {
    readonly name: string
    readonly path: string
    readonly about: string
    /** Of its woven face; empty where there is no draft, or the frieze shows it already. */
    readonly strip: string
    readonly hours: string
    readonly last: string
    readonly note: string
    readonly sittingPath: string
    readonly comparePath: string
  }[]
  readonly originals: readonly (Link & {
    readonly holder: string
    readonly date: string
    readonly claims: string
    /** Pieces of it with something measured, each leading to its comparison. */
    readonly pieces: readonly (Link & { about: string })[]
    readonly together: Link | ''
  })[]
  /** What of the main job nobody has begun yet. */
  readonly steps: readonly Step[]
  readonly mayCreate: boolean
  /** Told to who may take it out. */
  readonly hasDemo: boolean
  /** The viewer's running clock. */
  readonly timer: TimerView
}

export const emptyPage = (notice: string): EmptyPage => ({
  ...{ title: 'A notebook for reconstructing bands', section: 'home', notice },
  steps: stepsOf({ originals: 0, drafts: 0, pieces: 0 }),
  ...{ mayCreate: viewerMayCreate(), mayLoadDemo: viewerIsKeeper() },
})

export interface Found {
  readonly counts: Counts
  readonly hero: HeroDraft | undefined
  readonly onLoom: readonly OnLoom[]
  readonly originals: readonly RecentOriginal[]
  readonly measured: readonly MeasuredPiece[]
  readonly hasDemo: boolean
  readonly timer: TimerView
}

export function homePage(
  { counts, hero, onLoom, originals, measured, hasDemo, timer }: Found,
  notice: string,
): HomePage {
  return {
    ...{ title: 'Your notebook', section: 'home', notice, mayCreate: viewerMayCreate() },
    ...{ hasDemo: hasDemo && viewerIsKeeper(), timer, scripts: ['timer'] },
    counts: [
      { number: String(counts.originals), text: plural(counts.originals, 'original'), path: '/originals' },
      { number: String(counts.drafts), text: plural(counts.drafts, 'draft'), path: '/drafts' },
      { number: String(counts.pieces), text: plural(counts.pieces, 'piece'), path: '/pieces' },
      { number: String(counts.sources), text: plural(counts.sources, 'source'), path: '/sources' },
      ...(counts.sittings === 0 ? [] : [{ number: sayHours(counts.minutes), text: sayIn(counts.sittings), path: '' }]),
    ],
    hero: hero ? heroView(hero) : '',
    onLoom: onLoom.map((piece) => onLoomView(piece, hero)),
    originals: originals.map((original) => originalView(original, measured)),
    steps: viewerMayCreate() ? stepsOf(counts).filter((step) => !step.isDone) : [],
  }
}

const plural = (number: number, noun: string) => (number === 1 ? noun : `${noun}s`)
const sayHours = (minutes: number) => `${toDecimals(minutes / 60, 1)} h`
const sayIn = (sittings: number) => `in ${sittings} ${plural(sittings, 'sitting')}, breaks taken off`

/** Long enough for the widest page at the height of the frieze; narrower pages show the first part of it. */
const HERO_SHAPE = 9

function heroView({ id, title, revision, tablets, picks }: HeroDraft) {
  const size = `${tablets} ${plural(tablets, 'tablet')}, ${picks} ${plural(picks, 'pick')} in a repeat`
  return {
    src: stripAddress({ id, revision, tablets }, HERO_SHAPE),
    alt: `Woven face of ${title}`,
    title,
    path: `/drafts/${id}`,
    size,
  }
}

function onLoomView(piece: OnLoom, hero: HeroDraft | undefined): HomePage['onLoom'][number] {
  const { id, name, maker, originalId, originalName, minutes, sittings, last, mayEdit } = piece
  const of = originalId === null ? 'own design' : `after ${originalName ?? hiddenName('original')}`
  return {
    ...{ name, path: `/pieces/${id}` },
    about: [maker, of].filter(Boolean).join(', '),
    strip: stripOf(piece, hero),
    hours: sittings === 0 ? 'No sitting yet.' : `${sayHours(minutes)} so far, ${sayIn(sittings)}.`,
    last: last ? `Last on ${last.day}: ${STAGE_LABELS[last.stage].toLowerCase()}, ${sayHours(last.minutes)}.` : '',
    note: last?.note ?? '',
    sittingPath: mayEdit ? `/pieces/${id}/sittings/new` : '',
    comparePath: originalName === null ? '' : `/pieces/${id}/compare`,
  }
}

function stripOf({ draftId, revision, tablets }: OnLoom, hero: HeroDraft | undefined): string {
  if (draftId === null || revision === null || tablets === null) return ''
  if (hero?.id === draftId && hero.revision === revision) return ''
  return stripAddress({ id: draftId, revision, tablets }, 10)
}

function originalView(original: RecentOriginal, measured: readonly MeasuredPiece[]): HomePage['originals'][number] {
  const { id, name, holder, dateEdtf, claims } = original
  const pieces = measured.filter((piece) => piece.originalId === id)
  const path = `/compare?${pieces.map((piece) => `piece=${piece.id}`).join('&')}`
  const together = pieces.length === 2 ? 'Both side by side' : `All ${pieces.length} side by side`
  return {
    ...{ text: name, path: `/originals/${id}`, holder, date: toPhrase(dateEdtf) },
    claims: `${claims} ${plural(claims, 'claim')}`,
    pieces: pieces.map((piece) => ({
      ...{ text: piece.name, path: `/pieces/${piece.id}/compare` },
      about: [piece.maker, PIECE_STATUS_LABELS[piece.status]].filter(Boolean).join(', '),
    })),
    together: pieces.length > 1 ? { text: together, path } : '',
  }
}
