import { Router } from 'express'
import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import type { SettledTaught } from '../../shared/plan/facts.ts'
import { gramsText, planMovement, readGrams, sayGrams } from '../../shared/yarn/ledger.ts'
import { today, type Context } from '../context.ts'
import type { Db } from '../db/open.ts'
import { notFound, readId } from '../errors.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import { day, readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import type { PageHead } from '../pages.ts'
import { findPiece, type Piece } from '../piece/queries.ts'
import { shelfOf } from '../plan/facts.ts'
import { findSettled } from '../plan/taught.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { insertMovement, listMovements, listPieceLots } from './ledger-queries.ts'
import { findLot, type ShelfLot } from './queries.ts'
import { lotLabel } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/settle': SettlePage
  }
}

interface SettlePage extends PageHead {
  readonly piece: { readonly id: number; readonly name: string }
  readonly rows: readonly {
    readonly path: string
    readonly name: string
    readonly hex: string
    readonly planned: string
    readonly reserved: string
    readonly used: string
    readonly difference: string
    /** Empty where nothing is reserved any more, or the lot is somebody else's. */
    readonly field: FieldView | ''
  }[]
  readonly dayField: FieldView
  readonly accept: FieldView
  readonly asks: string
  readonly hasForm: boolean
  /** What its grams say of the take-up; empty before anything is used. */
  readonly teaches: string
}

interface PieceLedger {
  readonly lot: ShelfLot
  readonly plannedMg: number
  readonly reservedMg: number
  readonly usedMg: number
  readonly isMine: boolean
}

/** Reserved against used, when a piece is finished: one form for all of its lots. */
export function settleRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()
  const pieceAt = (text: string | undefined) => {
    const piece = findPiece(db, readId(text, 'piece'))
    if (!piece) throw notFound('piece')
    return piece
  }

  const shownOf = (piece: Piece) => ({
    ...{ piece, rows: ledgersOf(db, piece.id) },
    settled: findSettled(db, piece, shelfOf(db, piece.id)),
  })

  router.get('/pieces/:id/settle', (req, res) => {
    const piece = pieceAt(req.params.id)
    const entered = { day: today(context), accept: '' }
    res.send(page('yarn/settle', settlePage({ ...shownOf(piece), entered, notice: noticeOf(req) })))
  })

  router.post('/pieces/:id/settle', (req, res) => {
    const piece = pieceAt(req.params.id)
    const at = now().toISOString()
    const { problems, entered } = db.write(() => {
      const rows = ledgersOf(db, piece.id).filter(({ isMine, reservedMg }) => isMine && reservedMg > 0)
      return settle(db, { pieceId: piece.id, rows, body: req.body, today: today(context), at })
    })
    if (problems) {
      const shown = { ...shownOf(piece), entered, problems, notice: '' }
      return void res.status(422).send(page('yarn/settle', settlePage(shown)))
    }
    seeOther(res, `/pieces/${piece.id}/settle`, 'settled')
  })

  return router
}

function ledgersOf(db: Db, pieceId: number): PieceLedger[] {
  return listPieceLots(db, pieceId).flatMap(({ lotId, reservedMg, usedMg }) => {
    const lot = findLot(db, lotId)
    if (!lot) return []
    const movements = listMovements(db, lotId)
    const reservations = new Set(
      movements.filter((one) => one.kind === 'reserved' && one.pieceId === pieceId).map(({ id }) => id),
    )
    const planned = movements.filter(({ id, correctsId }) => reservations.has(id) || reservations.has(correctsId ?? 0))
    const plannedMg = planned.reduce((sum, one) => sum + one.reservedMg, 0)
    return [{ lot, reservedMg, usedMg, plannedMg, isMine: viewerMayEdit(db, 'yarn', lot.yarnId) }]
  })
}

interface Settling {
  readonly pieceId: number
  readonly rows: readonly PieceLedger[]
  readonly body: unknown
  readonly today: string
  readonly at: string
}

/** Writes what was used of each lot, and frees what is left of its reservation. @returns what is wrong, and nothing is written */
function settle(db: Db, { pieceId, rows, body, today: now, at }: Settling) {
  const entered = readEntered(body, [...rows.map(({ lot }) => `used-${lot.id}`), 'day', 'accept'])
  const problems: Record<string, string> = {}
  const read = day().safeParse(entered.day)
  if (!read.success) problems.day = read.error.issues[0]!.message
  const on = (read.success && read.data) || now
  if (on > now) problems.day = 'This day has not come yet; enter it when it is true.'
  const steps = rows.flatMap(({ lot, reservedMg }) => {
    const name = `used-${lot.id}`
    const text = entered[name]!.trim()
    if (text === '') return []
    const mg = readGrams(text)
    if (mg === undefined) {
      problems[name] = 'Please type grams, such as 97.4; 0 where nothing of it was used.'
      return []
    }
    const planned = planMovement('used', mg, listMovements(db, lot.id), pieceId)
    if (!planned.ok) problems[name] = planned.message
    else if (planned.question !== '' && entered.accept === '')
      problems.accept ??= `${lotLabel(lot)}: ${planned.question}`
    return planned.ok ? [{ lot, mg, reservedMg, ...planned }] : []
  })
  if (steps.length === 0 && Object.keys(problems).length === 0)
    problems[`used-${rows[0]?.lot.id ?? ''}`] = 'Please say of one lot at least what was used of it.'
  if (Object.keys(problems).length > 0) return { problems, entered }
  for (const { lot, mg, reservedMg, change, question } of steps) {
    const entry = { lotId: lot.id, day: on, pieceId, acceptedBelow: question !== '' }
    const figures = { expectedMg: reservedMg, foundMg: mg }
    if (mg > 0) insertMovement(db, { ...change, ...entry, ...figures, kind: 'used', note: 'Settled' }, at)
    const left = reservedMg + change.reservedMg
    if (left > 0) {
      const freed = { massMg: 0, reservedMg: -left, expectedMg: reservedMg, foundMg: mg }
      const note = `Settled: ${sayGrams(mg)} of ${sayGrams(reservedMg)} were used`
      insertMovement(db, { ...entry, ...freed, kind: 'released', note, acceptedBelow: false }, at)
    }
  }
  return { problems: undefined, entered }
}

interface Shown {
  readonly piece: { readonly id: number; readonly name: string }
  readonly rows: readonly PieceLedger[]
  readonly settled: SettledTaught | undefined
  readonly entered: Readonly<Record<string, string>>
  readonly problems?: Readonly<Record<string, string>>
  readonly notice: string
}

function settlePage({ piece, rows, settled, entered, problems = {}, notice }: Shown): SettlePage {
  const fieldOf = (name: string, spec: FieldSpec) => formFields({ [name]: spec }, entered, problems)[name]!
  const views = rows.map(({ lot, plannedMg, reservedMg, usedMg, isMine }) => {
    const difference = usedMg - plannedMg
    const isOpen = isMine && reservedMg > 0
    return {
      ...{ path: `/lots/${lot.id}`, name: lotLabel(lot), hex: lot.hex },
      ...{ planned: gramsText(plannedMg), reserved: gramsText(reservedMg), used: gramsText(usedMg) },
      difference: plannedMg === 0 || reservedMg > 0 ? '' : `${difference > 0 ? '+' : ''}${gramsText(difference)}`,
      field: isOpen
        ? fieldOf(`used-${lot.id}`, { label: `${lotLabel(lot)}, used, g`, inputmode: 'decimal' })
        : ('' as const),
    }
  })
  const fields = views.flatMap(({ field }) => (field === '' ? [] : [field]))
  const dayField = fieldOf('day', { label: 'Day', type: 'date' })
  const accept = fieldOf('accept', { label: 'It is so: enter it all the same', control: 'tick' })
  return {
    ...{ title: `Yarn of ${piece.name}`, section: 'pieces', notice, rows: views, dayField, accept },
    piece: { id: piece.id, name: piece.name },
    asks: problems.accept ?? '',
    hasForm: fields.length > 0,
    teaches: settled ? sayTeaches(settled) : '',
    problems: problemList(Object.fromEntries([...fields, dayField, accept].map((field) => [field.name, field]))),
  }
}

function sayTeaches({ percent, ratio, weftRatio, rests }: SettledTaught): string {
  const takeUp =
    percent === null
      ? `Of the take-up its grams say nothing: ${rests}.`
      : `By its grams the warp took up ${toDecimals(percent, 1)} % of the woven length${ratio === null ? '' : `, ${toSignificant(ratio, 3)} times what geometry says`}: ${rests}.`
  const weft = weftRatio === null ? '' : ` Weft was used ${toSignificant(weftRatio, 3)} times what was planned.`
  return `${takeUp}${weft} When the piece is finished, this stands beside what was measured on the plans of your others, and each plan says whether it goes by it.`
}
