import type { Html, PageHead } from '../pages.ts'
import { hiddenName } from '../rights/allowed.ts'
import { currentViewer } from '../rights/viewer.ts'
import { toBand, toScaleBar, type BandView } from './bands.ts'
import { evidenceKey, knownOf, repeatLengthOf } from './evidence.ts'
import { piecePace, toRateNote, toRates, type RateView } from '../sitting/pace.ts'
import type { ComparedPiece } from './queries.ts'
import { compareEvidence, listRows, toComparison, type ResultView, type RowView } from './row.ts'
import { toScale, type ScaleView } from './scale.ts'
import { toDecimals } from '../../shared/measure/rounding.ts'

declare module '../pages.ts' {
  interface Pages {
    'compare/one': OneComparisonPage
  }
}

/** A piece beside its original. */
export interface OneComparisonPage extends PageHead {
  readonly pieceId: number
  readonly pieceName: string
  readonly maker: string
  readonly status: string
  /** An empty path for an own design. */
  readonly original: { readonly name: string; readonly path: string; readonly holder: string }
  readonly draft: { readonly title: string; readonly path: string }
  /** What is said in their place, where the viewer may not see them; else empty. */
  readonly hiddenOriginal: string
  readonly hiddenDraft: string
  readonly mayEdit: boolean
  readonly mayCompare: boolean
  readonly bands: readonly BandView[]
  readonly bandNote: string
  /** A short bar for the screen, and one of 100 mm to check a print by. */
  readonly screenBar: Html
  readonly paperBar: Html
  readonly headlines: readonly HeadlineView[]
  readonly groups: readonly { readonly group: string; readonly rows: readonly RowView[] }[]
  readonly scale: ScaleView
  readonly rates: readonly RateView[]
  readonly rateNote: string
  readonly stages: readonly {
    readonly label: string
    readonly hours: string
    readonly breaks: string
    readonly sittings: string
  }[]
  readonly hours: string
}

export interface HeadlineView {
  readonly label: string
  readonly ratio: string
  readonly result: ResultView | undefined
  readonly href: string
}

/** How much of both bands is drawn. It fits on A4 and shows a repeat or more of most bands. */
const DRAWN_MM = 90

export function oneComparisonPage(compared: ComparedPiece): OneComparisonPage {
  const { piece, original, draft, sides, features, yarns, sittings, hides, mayEdit } = compared
  const otherName = hides.original ? hiddenName('original') : 'no original'
  const paths = { original: original ? `/originals/${original.id}` : '', replica: `/pieces/${piece.id}`, mayEdit }
  const pace = piecePace(sittings, draft?.draft, repeatLengthOf(sides.replica))
  return {
    title: `${piece.name} beside ${original?.name ?? otherName}`,
    section: 'pieces',
    pieceId: piece.id,
    pieceName: piece.name,
    maker: piece.maker,
    status: piece.status.status,
    original: {
      name: original?.name ?? '',
      path: paths.original,
      holder: [original?.holder, original?.inventoryNumber].filter(Boolean).join(', '),
    },
    hiddenOriginal: hides.original ? hiddenName('original') : '',
    hiddenDraft: hides.draft ? hiddenName('draft') : '',
    mayEdit: mayEdit.replica,
    mayCompare: currentViewer().kind !== 'anonymous',
    draft: { title: draft?.draft.title ?? '', path: draft?.path ?? '' },
    bands: original && draft ? toBands(compared) : [],
    bandNote: draft ? bandNote(compared) : '',
    screenBar: toScaleBar(50),
    paperBar: toScaleBar(100),
    headlines: original ? toHeadlines(sides) : [],
    groups: listRows(features, sides, paths),
    scale: toScale(sides, yarns, paths),
    rates: toRates(pace),
    rateNote: toRateNote(pace),
    stages: pace.stages.map(({ label, hours, breakHours, n }) => ({
      label,
      hours: `${toDecimals(hours, 1)} h`,
      breaks: breakHours === 0 ? 'none' : `${toDecimals(breakHours, 1)} h`,
      sittings: String(n),
    })),
    hours: `${toDecimals(pace.hours, 1)} h`,
  }
}

function toBands({ piece, original, draft, sides }: ComparedPiece): BandView[] {
  const common = { draft: draft!.draft, woven: draft!.woven, lengthMm: DRAWN_MM, detail: 'high' } as const
  const lend = (side: 'original' | 'replica', from: string) => {
    const value = knownOf(sides[side].get(evidenceKey('picksPerCm')))?.value
    return value === undefined ? undefined : { value, from }
  }
  return [
    toBand({
      ...common,
      label: original!.name,
      side: sides.original,
      idPrefix: 'original',
      lentPicksPerCm: lend('replica', 'the piece'),
    }),
    toBand({
      ...common,
      label: piece.name,
      side: sides.replica,
      idPrefix: 'replica',
      lentPicksPerCm: lend('original', 'the original'),
    }),
  ]
}

/** Both bands are drawn from the one draft the piece is woven from; where the find has another number of tablets that shows. */
function bandNote({ draft, sides }: ComparedPiece): string {
  const tablets = draft!.draft.tablets.length
  const found = knownOf(sides.original.get(evidenceKey('tablets')))?.value
  const differs =
    found !== undefined && found !== tablets
      ? ` The original has ${found} tablets, the draft ${tablets}: its cords are drawn too ${found > tablets ? 'wide' : 'narrow'} by that.`
      : ''
  return `Both are drawn from the draft that the piece is woven from.${differs}`
}

const HEADLINES = [
  { key: 'width', label: 'Width' },
  { key: 'tabletsPerCm', label: 'Tablets per cm' },
  { key: 'picksPerCm', label: 'Picks per cm' },
  { key: 'repeatLength', label: 'Length of a repeat' },
] as const

function toHeadlines(sides: ComparedPiece['sides']): HeadlineView[] {
  return HEADLINES.map(({ key, label }) => {
    const pair = [sides.original.get(evidenceKey(key)), sides.replica.get(evidenceKey(key))] as const
    const found = toComparison(...pair)
    const result = compareEvidence(...pair)
    return { label, result, ratio: found ? toDecimals(found.ratio, 2) : '', href: `#row-${key}` }
  })
}
