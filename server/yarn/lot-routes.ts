import { Router } from 'express'
import { planCorrection } from '../../shared/yarn/ledger.ts'
import { today, type Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { parseForm, readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { listPieces } from '../piece/queries.ts'
import { viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { correctionPage } from './correction-page.ts'
import { findLotOfMovement, insertMovement, listMovements } from './ledger-queries.ts'
import { lotEditPage } from './lot-edit-page.ts'
import { readLotForm, typedLot } from './lot-form.ts'
import { lotShowPage, type ShownLot } from './lot-page.ts'
import {
  BLANK_MOVEMENT,
  correctionSchema,
  ENTERED_KINDS,
  readMovementForm,
  type MovementEntered,
} from './movement-form.ts'
import { deleteLot, findLot, listLots, updateLot, type ShelfLot } from './queries.ts'

/** A lot with its ledger. */
export function lotRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()
  const lotAt = (text: string | undefined): ShelfLot => {
    const lot = findLot(db, readId(text, 'lot'))
    if (!lot) throw notFound('lot')
    return lot
  }
  const mayOf = (lot: ShelfLot) => ({
    mayEdit: viewerMayEdit(db, 'yarn', lot.yarnId),
    mayOwn: viewerMayOwn(db, 'yarn', lot.yarnId),
  })
  const shownOf = (lot: ShelfLot, entered: MovementEntered, more: Partial<ShownLot> = {}): ShownLot => ({
    ...{ lot, entered, movements: listMovements(db, lot.id), pieces: listPieces(db), notice: '', ...mayOf(lot) },
    others: listLots(db).filter((other) => other.id !== lot.id),
    ...more,
  })
  /** What yarn can be dyed into: lots of the viewer's own. */
  const listTargets = (lot: ShelfLot) =>
    listLots(db).filter((other) => other.id !== lot.id && viewerMayEdit(db, 'yarn', other.yarnId))

  router.get('/lots/:id', (req, res) => {
    const lot = lotAt(req.params.id)
    const { do: kind, piece } = readEntered(req.query, ['do', 'piece'])
    const isKnown = ENTERED_KINDS.some((each) => each === kind)
    const entered = { ...BLANK_MOVEMENT, kind: isKnown ? kind : '', day: today(context), piece }
    const others = kind === 'dyed' ? { others: listTargets(lot) } : {}
    res.send(page('yarn/lot', lotShowPage(shownOf(lot, entered, { notice: noticeOf(req), ...others }))))
  })

  router.post('/lots/:id/movements', (req, res) => {
    const lot = lotAt(req.params.id)
    const targets = listTargets(lot)
    const pieces = listPieces(db)
    const at = now().toISOString()
    // Read and written in one transaction: what the question rests on does not change between.
    const form = db.write(() => {
      const read = readMovementForm(req.body, {
        ...{ today: today(context), lotId: lot.id, entries: listMovements(db, lot.id) },
        ...{ pieceIds: pieces.map(({ id }) => id), otherLotIds: targets.map(({ id }) => id) },
      })
      if (read.ok) for (const entry of read.entries) insertMovement(db, entry, at)
      return read
    })
    if (form.ok) return void seeOther(res, `/lots/${lot.id}#ledger`, 'entered')
    const others = form.entered.kind === 'dyed' ? { others: targets } : {}
    res
      .status(422)
      .send(page('yarn/lot', lotShowPage(shownOf(lot, form.entered, { problems: form.problems, ...others }))))
  })

  const movementAt = (text: string | undefined) => {
    const id = readId(text, 'movement')
    const lot = findLot(db, findLotOfMovement(db, id) ?? 0)
    const movements = lot ? listMovements(db, lot.id) : []
    const movement = movements.find((each) => each.id === id)
    if (!lot || !movement) throw notFound('movement')
    return { lot, movement, movements }
  }

  router.get('/movements/:id/correct', (req, res) => {
    const entered = { grams: '', day: today(context), note: '', accept: '' }
    res.send(page('yarn/correct', correctionPage({ ...movementAt(req.params.id), entered })))
  })

  router.post('/movements/:id/correct', (req, res) => {
    const form = parseForm(req.body, correctionSchema)
    const entered = readEntered(req.body, ['grams', 'day', 'note', 'accept'])
    const problems = db.write(() => {
      const { lot, movement, movements } = movementAt(req.params.id)
      if (!form.ok) return form.problems
      const { grams = 0, day = today(context), note, accept } = form.value
      if (day > today(context)) return { day: 'This day has not come yet; enter it when it is true.' }
      const planned = planCorrection(movement, grams, movements)
      if (!planned.ok) return { grams: planned.message }
      if (planned.question !== '' && accept === '') return { accept: planned.question }
      const entry = { lotId: lot.id, kind: 'correction' as const, day, note, pieceId: movement.pieceId }
      const correction = { ...planned.change, ...entry, correctsId: movement.id }
      insertMovement(db, { ...correction, acceptedBelow: planned.question !== '' }, now().toISOString())
      return undefined
    })
    const { lot, ...rest } = movementAt(req.params.id)
    if (problems) {
      const shown = correctionPage({ lot, ...rest, entered, problems })
      return void res.status(422).send(page('yarn/correct', shown))
    }
    seeOther(res, `/lots/${lot.id}#ledger`, 'entered')
  })

  router.get('/lots/:id/edit', (req, res) => {
    const lot = lotAt(req.params.id)
    res.send(page('yarn/lot-edit', lotEditPage({ yarn: lot.yarn, lot }, typedLot(lot))))
  })

  router.post('/lots/:id', (req, res) => {
    const lot = lotAt(req.params.id)
    const form = readLotForm(req.body, today(context))
    if (!form.ok) {
      const shown = lotEditPage({ yarn: lot.yarn, lot }, form.entered, form.problems)
      return void res.status(422).send(page('yarn/lot-edit', shown))
    }
    updateLot(db, lot.id, form.value, now().toISOString())
    seeOther(res, `/lots/${lot.id}`, 'saved')
  })

  router.post('/lots/:id/delete', (req, res) => {
    const lot = lotAt(req.params.id)
    deleteLot(db, lot.id, now().toISOString())
    seeOther(res, `/yarns/${lot.yarnId}?undo=lot-${lot.id}`, 'deleted')
  })

  return router
}
