import { Router, type Request } from 'express'
import { claimsView } from '../claim/pages.ts'
import { findRepeatLength } from '../compare/queries.ts'
import { today, type Context } from '../context.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevisionById, listRevisionChoices } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { optionalId, readEntered } from '../form.ts'
import { listProposals } from '../hours/proposal.ts'
import { timerView } from '../hours/timer-view.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findOriginal, listOriginalChoices } from '../original/queries.ts'
import { observedListView } from '../observed/view.ts'
import { photosView } from '../photo/view.ts'
import { viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { sharingView } from '../sharing/view.ts'
import { listSittings } from '../sitting/queries.ts'
import { listLots } from '../yarn/queries.ts'
import { BLANK_PIECE, pieceEditPage, typedPiece, type PieceLists } from './edit-page.ts'
import { enteredPiece, readPieceForm, type ReadPiece } from './form.ts'
import { pieceDeletePage, pieceShowPage, type PieceSubject } from './pages.ts'
import * as pieces from './queries.ts'
import type { Piece } from './queries.ts'
import { listFilledRows } from './yarn-form.ts'
import { toYarnRows } from './yarn-view.ts'

export function pieceRoutes(context: Context): Router {
  const { db, page, now, dataDir } = context
  const router = Router()
  const pieceAt = (text: string | undefined): Piece => {
    const piece = pieces.findPiece(db, readId(text, 'piece'))
    if (!piece) throw notFound('piece')
    return piece
  }
  const listsFor = (revision: string, piece?: Piece): PieceLists => {
    const id = optionalId().safeParse(revision).data
    const chosen = id === undefined ? undefined : findRevisionById(db, id)
    const revisions = listRevisionChoices(db, piece?.draftRevisionId)
    const colours = chosen?.draft.colours ?? (piece && id === piece.draftRevisionId ? keptColours(piece) : {})
    return { originals: listOriginalChoices(db, piece?.originalId), revisions, colours, lots: listLots(db) }
  }
  /** Of a draft that the viewer may not see, the colours that the yarns of the piece name already. */
  const keptColours = (piece: Piece) =>
    Object.fromEntries(
      pieces.listPieceYarns(db, piece.id).flatMap(({ colourKey: key }) => (key ? [[key, { name: key, hex: '' }]] : [])),
    )
  /** A lot that the viewer may not see stays with a piece that they change. */
  const keptLots = (piece: Piece | undefined) =>
    piece ? pieces.listPieceYarns(db, piece.id).flatMap(({ lotId }) => (lotId === undefined ? [] : [lotId])) : []
  const subjectOf = ({ originalId, draftRevisionId }: Piece): PieceSubject => {
    const revision = draftRevisionId === undefined ? undefined : findRevisionById(db, draftRevisionId)
    const draft = revision && findDraft(db, revision.draftId)
    return {
      original: originalId === undefined ? undefined : findOriginal(db, originalId),
      revision: revision && draft && { ...revision, title: draft.title, written: draft.written },
    }
  }
  const read = (body: unknown, piece?: Piece): { form: ReadPiece; lists: PieceLists } => {
    const lists = listsFor(enteredPiece(body).revision, piece)
    const [originalIds, revisionIds] = [lists.originals, lists.revisions].map((list) => list.map(({ id }) => id))
    const colourKeys = Object.keys(lists.colours)
    const choices = {
      originalIds: originalIds ?? [],
      revisionIds: revisionIds ?? [],
      colourKeys,
      lotIds: [...lists.lots.map(({ id }) => id), ...keptLots(piece)],
      today: today(context),
    }
    return { form: readPieceForm(body, choices), lists }
  }
  /** The button that asks for more rows and the colours of the draft just chosen: nothing is judged or kept. */
  const wantsRows = (req: Request) => readEntered(req.body, ['rows']).rows !== ''
  const withRows = (req: Request, piece?: Piece) => {
    const entered = enteredPiece(req.body)
    return page(
      'piece/edit',
      pieceEditPage(piece, { entered, rows: listFilledRows(req.body) }, listsFor(entered.revision, piece)),
    )
  }

  router.get('/pieces/new', (req, res) => {
    const { original, revision } = readEntered(req.query, ['original', 'revision'])
    const entered = { ...BLANK_PIECE, maker: pieces.findLastMaker(db), plannedOn: today(context), original, revision }
    res.send(page('piece/edit', pieceEditPage(undefined, { entered, rows: [] }, listsFor(revision))))
  })

  router.post('/pieces', (req, res) => {
    if (wantsRows(req)) return void res.send(withRows(req))
    const { form, lists } = read(req.body)
    if (!form.ok) return void res.status(422).send(page('piece/edit', pieceEditPage(undefined, form, lists)))
    seeOther(res, `/pieces/${pieces.insertPiece(db, form.value, now().toISOString())}`, 'saved')
  })

  router.get('/pieces/:id', (req, res) => {
    const piece = pieceAt(req.params.id)
    const subject = subjectOf(piece)
    const mayEdit = viewerMayEdit(db, 'piece', piece.id)
    const sittings = listSittings(db, piece.id)
    const record = {
      photos: photosView({ db, dataDir }, { noun: 'piece', id: piece.id }),
      observed: observedListView(db, { noun: 'piece', id: piece.id }),
      yarns: pieces.listPieceYarns(db, piece.id),
      lots: listLots(db),
      claims: claimsView(db, { pieceId: piece.id }),
      sittings,
      repeatLength: findRepeatLength(db, piece.id, subject.revision?.draft),
      timer: timerView(db, now(), `/pieces/${piece.id}`, mayEdit ? piece.id : undefined, sittings.at(-1)?.stage),
      waiting: mayEdit ? listProposals(db, piece, now()).proposals.length : 0,
    }
    const may = {
      mayEdit,
      mayOwn: viewerMayOwn(db, 'piece', piece.id),
      sharing: sharingView(db, 'piece', piece.id),
    }
    res.send(page('piece/show', pieceShowPage(piece, subject, record, may, noticeOf(req))))
  })

  router.get('/pieces/:id/edit', (req, res) => {
    const piece = pieceAt(req.params.id)
    const typed = { entered: typedPiece(piece), rows: toYarnRows(pieces.listPieceYarns(db, piece.id)) }
    res.send(page('piece/edit', pieceEditPage(piece, typed, listsFor(typed.entered.revision, piece))))
  })

  router.post('/pieces/:id', (req, res) => {
    const piece = pieceAt(req.params.id)
    if (wantsRows(req)) return void res.send(withRows(req, piece))
    const { form, lists } = read(req.body, piece)
    if (!form.ok) return void res.status(422).send(page('piece/edit', pieceEditPage(piece, form, lists)))
    pieces.updatePiece(db, piece.id, form.value, now().toISOString())
    seeOther(res, `/pieces/${piece.id}`, 'saved')
  })

  router.get('/pieces/:id/delete', (req, res) => {
    const piece = pieceAt(req.params.id)
    const yarns = pieces.listPieceYarns(db, piece.id).length
    const gone = { yarns, claims: pieces.countPieceClaims(db, piece.id), sittings: listSittings(db, piece.id) }
    res.send(page('piece/delete', pieceDeletePage(piece, gone)))
  })

  router.post('/pieces/:id/delete', (req, res) => {
    const { id } = pieceAt(req.params.id)
    pieces.deletePiece(db, id, now().toISOString())
    seeOther(res, `/pieces?undo=piece-${id}`, 'deleted')
  })

  return router
}
