import { PIECE_STATUS_LABELS } from '../../shared/work/status.ts'
import type { Html, PageHead } from '../pages.ts'
import type { Piece } from '../piece/queries.ts'
import { hiddenName, viewerMayCreate } from '../rights/allowed.ts'
import { toBand, toScaleBar, type BandView } from './bands.ts'
import type { ComparedPiece } from './queries.ts'
import { listColumns, sortRows, toComparedRow, type Cell } from './several.ts'

declare module '../pages.ts' {
  interface Pages {
    'compare/several': SeveralPage
  }
}

export interface SeveralPage extends PageHead {
  readonly choices: readonly {
    readonly id: number
    readonly name: string
    readonly about: string
    readonly isChosen: boolean
  }[]
  readonly count: string
  readonly columns: readonly ColumnView[]
  readonly rows: readonly (readonly CellView[])[]
  readonly bands: readonly BandView[]
  readonly scaleBar: Html
  /** Whether the list to tick from stands open. */
  readonly isChoosing: boolean
  readonly mayCreate: boolean
}

interface ColumnView {
  readonly label: string
  readonly path: string
  readonly isNumber: boolean
  /** `ascending`, `descending` or `none`, as `aria-sort` takes it. */
  readonly sort: string
  readonly arrow: string
}

interface CellView extends Omit<Cell, 'order'> {
  readonly isNumber: boolean
  readonly isHead: boolean
  readonly label: string
}

export interface SeveralRequest {
  readonly ids: readonly number[]
  readonly sort: string
  readonly descending: boolean
}

/** Pictures in one row get shorter the more there are; nobody compares threads across twenty bands. */
const DRAWN_MM = 60
const HIGH_DETAIL_UP_TO = 6

export function severalPage(
  all: readonly Piece[],
  chosen: readonly ComparedPiece[],
  { ids, sort, descending }: SeveralRequest,
): SeveralPage {
  const rows = chosen.map(toComparedRow)
  const columns = listColumns(rows)
  const by = columns.find((column) => column.key === sort)
  const sorted = by ? sortRows(rows, (row) => by.toCell(row).order, descending) : rows
  const pieces = ids.map((id) => `piece=${id}`).join('&')
  return {
    title: chosen.length > 0 ? 'Pieces side by side' : 'Choose pieces to compare',
    section: 'pieces',
    choices: all.map((piece) => ({
      id: piece.id,
      name: piece.name,
      about: [piece.maker, PIECE_STATUS_LABELS[piece.status.status]].filter(Boolean).join(', '),
      isChosen: ids.includes(piece.id),
    })),
    count: `${chosen.length} of ${all.length} ${all.length === 1 ? 'piece' : 'pieces'}`,
    columns: columns.map(({ key, label, isNumber }) => {
      const isCurrent = key === by?.key
      return {
        label,
        isNumber,
        path: `/compare?${pieces}&sort=${key}&order=${isCurrent && !descending ? 'down' : 'up'}`,
        sort: isCurrent ? (descending ? 'descending' : 'ascending') : 'none',
        arrow: isCurrent ? (descending ? '↓' : '↑') : '',
      }
    }),
    rows: sorted.map((row) =>
      columns.map((column, at) => {
        const { text, details, href } = column.toCell(row)
        return { text, details, href, isNumber: column.isNumber, isHead: at === 0, label: column.label }
      }),
    ),
    bands: sorted.map(({ compared }, at) => bandOf(compared, at, chosen.length)),
    scaleBar: toScaleBar(50),
    isChoosing: chosen.length === 0,
    mayCreate: viewerMayCreate(),
  }
}

function bandOf({ piece, draft, sides, hides }: ComparedPiece, at: number, of: number): BandView {
  if (!draft) {
    const why = hides.draft ? `it is woven from ${hiddenName('draft')}` : 'the piece has no draft'
    return { label: piece.name, picture: '', caption: `Not drawn: ${why}.` }
  }
  const detail = of > HIGH_DETAIL_UP_TO ? 'low' : 'high'
  return toBand({
    label: piece.name,
    draft: draft.draft,
    woven: draft.woven,
    side: sides.replica,
    lengthMm: DRAWN_MM,
    detail,
    idPrefix: `band${at}`,
  })
}
