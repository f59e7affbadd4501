import { Router, type Request, type Response } from 'express'
import { today, type Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { findNewFrom } from '../hours/new-from.ts'
import { deleteTimer } from '../hours/timer-queries.ts'
import { seeOther } from '../notice.ts'
import { findPiece } from '../piece/queries.ts'
import type { Piece } from '../piece/queries.ts'
import { enteredSitting, readSittingForm, type SittingForm } from './form.ts'
import { blankSitting, overlapIds, sittingEditPage, typedSitting, type NewFrom } from './pages.ts'
import {
  deleteSitting,
  findLastSitting,
  findSitting,
  insertSitting,
  listOverlaps,
  updateSitting,
  type Sitting,
} from './queries.ts'

export function sittingRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()
  const pieceAt = (id: number) => {
    const piece = findPiece(db, id)
    if (!piece) throw notFound('piece')
    return piece
  }
  const sittingAt = (text: string | undefined) => {
    const sitting = findSitting(db, readId(text, 'sitting'))
    if (!sitting) throw notFound('sitting')
    return sitting
  }

  /** The sitting to keep; undefined when the form went back with a problem or a question. */
  const readOrAsk = (
    req: Request,
    res: Response,
    piece: Piece,
    { sitting, from }: { readonly sitting?: Sitting; readonly from?: NewFrom | undefined },
  ): SittingForm | undefined => {
    const form = readSittingForm(req.body, now())
    if (!form.ok) {
      const shown = sittingEditPage(piece, sitting, form.entered, form.problems, [], from)
      res.status(422).send(page('sitting/edit', shown))
      return undefined
    }
    const value = { ...form.value, maker: form.value.maker || piece.maker }
    const overlaps = listOverlaps(db, value, sitting?.id)
    const entered = enteredSitting(req.body)
    if (overlapIds(overlaps) === entered.keepBoth || overlaps.length === 0) return value
    const whose = value.maker || 'the same maker'
    const problem = {
      keepBoth: `This shares time with another sitting of ${whose}. Mend the times, or tick to keep both.`,
    }
    res.status(422).send(page('sitting/edit', sittingEditPage(piece, sitting, entered, problem, overlaps, from)))
    return undefined
  }

  router.get('/pieces/:id/sittings/new', (req, res) => {
    const piece = pieceAt(readId(req.params.id, 'piece'))
    const { start, ...asked } = readEntered(req.query, ['steps', 'timer', 'start'])
    const from = findNewFrom(db, piece, asked, now())
    const blank = () => blankSitting(today(context), context.zone, piece.maker, findLastSitting(db, piece.id))
    const entered = from ? typedSitting(from.form, []) : blank()
    if (start !== '') Object.assign(entered, { start, startWhich: '' })
    res.send(page('sitting/edit', sittingEditPage(piece, undefined, entered, {}, [], from)))
  })

  router.post('/pieces/:id/sittings', (req, res) => {
    const piece = pieceAt(readId(req.params.id, 'piece'))
    const from = findNewFrom(db, piece, readEntered(req.body, ['steps', 'timer']), now())
    const value = readOrAsk(req, res, piece, { from })
    if (!value) return
    db.write(() => {
      insertSitting(db, piece.id, value, now().toISOString(), from?.made)
      if (from?.name === 'timer') deleteTimer(db)
    })
    seeOther(res, from ? `/pieces/${piece.id}/hours#sittings` : `/pieces/${piece.id}#sittings`, 'saved')
  })

  router.get('/sittings/:id/edit', (req, res) => {
    const sitting = sittingAt(req.params.id)
    const overlaps = listOverlaps(db, sitting, sitting.id)
    const entered = typedSitting(sitting, overlaps)
    res.send(page('sitting/edit', sittingEditPage(pieceAt(sitting.pieceId), sitting, entered, {}, overlaps)))
  })

  router.post('/sittings/:id', (req, res) => {
    const sitting = sittingAt(req.params.id)
    const value = readOrAsk(req, res, pieceAt(sitting.pieceId), { sitting })
    if (!value) return
    updateSitting(db, sitting.id, value, now().toISOString())
    seeOther(res, `/pieces/${sitting.pieceId}#sittings`, 'saved')
  })

  router.post('/sittings/:id/delete', (req, res) => {
    const sitting = sittingAt(req.params.id)
    deleteSitting(db, sitting.id, now().toISOString())
    seeOther(res, `/pieces/${sitting.pieceId}?undo=sitting-${sitting.id}#sittings`, 'deleted')
  })

  return router
}
