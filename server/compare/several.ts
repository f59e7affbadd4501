import { PIECE_STATUS_LABELS } from '../../shared/work/status.ts'
import { STAGE_LABELS, STAGES, type Stage } from '../../shared/work/stage.ts'
import { roundUncertainty, toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { piecePace, type PiecePace } from '../sitting/pace.ts'
import { evidenceKey, knownOf, repeatLengthOf, type Evidence } from './evidence.ts'
import { hiddenName } from '../rights/allowed.ts'
import type { ComparedPiece } from './queries.ts'
import { toComparison, toSide, VERDICT_WORDS } from './row.ts'

/** One figure of the table: how it is shown, by what it is sorted, where it came from. */
export interface Cell {
  readonly text: string
  /** A line each. */
  readonly details: readonly string[]
  readonly href: string
  /** What the column is sorted by; undefined sorts last either way. */
  readonly order: number | string | undefined
}

export interface Column {
  readonly key: string
  readonly label: string
  readonly isNumber: boolean
  readonly toCell: (row: ComparedRow) => Cell
}

export interface ComparedRow {
  readonly compared: ComparedPiece
  readonly pace: PiecePace
}

export function toComparedRow(compared: ComparedPiece): ComparedRow {
  return { compared, pace: piecePace(compared.sittings, compared.draft?.draft, repeatLengthOf(compared.sides.replica)) }
}

/** Columns that every table has, and one for each stage that any of the pieces spent time on. */
export function listColumns(rows: readonly ComparedRow[]): Column[] {
  const used = new Set(rows.flatMap(({ pace }) => pace.stages.map(({ stage }) => stage)))
  return [
    words('piece', 'Piece', ({ piece }) => ({ text: piece.name, href: `/pieces/${piece.id}` })),
    words('maker', 'Maker', ({ piece }) => ({ text: piece.maker || 'not noted', href: `/pieces/${piece.id}` })),
    words('status', 'Status', ({ piece }) => ({
      text: PIECE_STATUS_LABELS[piece.status.status],
      href: `/pieces/${piece.id}`,
    })),
    words('original', 'Original', ({ piece, original, hides }) =>
      original
        ? { text: original.name, href: `/originals/${original.id}` }
        : { text: hides.original ? hiddenName('original') : 'own design', href: `/pieces/${piece.id}` },
    ),
    measured('width', 'Width'),
    ratio('width', 'Width ratio'),
    measured('picksPerCm', 'Picks per cm'),
    ratio('picksPerCm', 'Density ratio, picks'),
    ratio('tabletsPerCm', 'Density ratio, tablets'),
    rate('minutesPerRepeat', 'Minutes a repeat', ({ pace }) => pace.pace.minutesPerRepeat, 'repeats'),
    rate('picksPerHour', 'Picks an hour', ({ pace }) => pace.pace.picksPerHour, 'picks'),
    rate('cmPerHour', 'cm an hour', ({ pace }) => pace.pace.mmPerHour && pace.pace.mmPerHour / 10, 'lengthMm'),
    hours('hours', 'Hours in all', ({ pace }) => (pace.stages.length > 0 ? pace.hours : undefined)),
    ...STAGES.filter((stage) => used.has(stage)).map((stage) =>
      hours(`hours-${stage}`, `Hours: ${STAGE_LABELS[stage].toLowerCase()}`, ({ pace }) => hoursAt(pace, stage)),
    ),
  ]
}

const hoursAt = (pace: PiecePace, stage: Stage) => pace.stages.find((row) => row.stage === stage)?.hours

function words(key: string, label: string, read: (compared: ComparedPiece) => { text: string; href: string }): Column {
  const toCell = ({ compared }: ComparedRow): Cell => {
    const { text, href } = read(compared)
    return { text, href, details: [], order: text.toLocaleLowerCase('en') }
  }
  return { key, label, isNumber: false, toCell }
}

function measured(feature: string, label: string): Column {
  const toCell = ({ compared }: ComparedRow): Cell => {
    const evidence = compared.sides.replica.get(evidenceKey(feature))
    const { main, path } = toSide(evidence, `/pieces/${compared.piece.id}`)
    const details = evidence ? uncertaintyOf(evidence) : []
    return { text: main, href: path || `/pieces/${compared.piece.id}`, details, order: knownOf(evidence)?.value }
  }
  return { key: feature, label, isNumber: true, toCell }
}

function uncertaintyOf(evidence: Evidence): string[] {
  const { u, n } = knownOf(evidence) ?? { u: null, n: null }
  const line = [n === null ? '' : `n = ${n}`, u ? `u = ${roundUncertainty(u).rounded}` : ''].filter(Boolean)
  return line.length > 0 ? [line.join(', ')] : []
}

function ratio(feature: string, label: string): Column {
  const toCell = ({ compared }: ComparedRow): Cell => {
    const { original, replica } = compared.sides
    const found = toComparison(original.get(evidenceKey(feature)), replica.get(evidenceKey(feature)))
    const href = `/pieces/${compared.piece.id}/compare#row-${feature}`
    if (!found)
      return {
        text: 'no ratio',
        details: [sayNoRatio(compared)],
        href,
        order: undefined,
      }
    const interval =
      found.interval && found.uRatio !== 0
        ? `95 %: ${found.interval.map((end) => toDecimals(end, 2)).join(' to ')}`
        : ''
    return {
      text: toDecimals(found.ratio, 2),
      details: [interval, VERDICT_WORDS[found.verdict]].filter(Boolean),
      href,
      order: found.ratio,
    }
  }
  return { key: `${feature}-ratio`, label, isNumber: true, toCell }
}

function sayNoRatio({ original, hides }: ComparedPiece): string {
  if (original) return 'a side has no value'
  return hides.original ? 'its original is not shown to you' : 'no original'
}

function rate(
  key: string,
  label: string,
  read: (row: ComparedRow) => number | null,
  unit: 'repeats' | 'picks' | 'lengthMm',
): Column {
  const toCell = (row: ComparedRow): Cell => {
    const href = `/pieces/${row.compared.piece.id}/compare#pace-title`
    const value = read(row)
    if (value === null) return { text: 'not known', details: [], href, order: undefined }
    const { minutes, n } = row.pace.pace.base[unit]
    return {
      text: toSignificant(value, 3),
      details: [`${toDecimals(minutes / 60, 1)} h, n = ${n}`],
      href,
      order: value,
    }
  }
  return { key, label, isNumber: true, toCell }
}

function hours(key: string, label: string, read: (row: ComparedRow) => number | undefined): Column {
  const toCell = (row: ComparedRow): Cell => {
    const value = read(row)
    const href = `/pieces/${row.compared.piece.id}#sittings`
    return { text: value === undefined ? 'none' : toDecimals(value, 1), details: [], href, order: value }
  }
  return { key, label, isNumber: true, toCell }
}

/** Rows by one column; what has no value comes last, whichever way; equals keep their order. */
export function sortRows<R>(rows: readonly R[], toOrder: (row: R) => Cell['order'], descending: boolean): R[] {
  const sign = descending ? -1 : 1
  return rows.toSorted((left, right) => {
    const [a, b] = [toOrder(left), toOrder(right)]
    if (a === undefined || b === undefined) return a === b ? 0 : a === undefined ? 1 : -1
    return sign * (typeof a === 'string' ? a.localeCompare(String(b), 'en') : a - Number(b))
  })
}
