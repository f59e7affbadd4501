import { Router } from 'express'
import { quotePaper } from '../../shared/price/quote-paper.ts'
import { sayHours } from '../../shared/price/say-quote.ts'
import { today, type Context } from '../context.ts'
import { findRevisionById, type Revision } from '../draft/revision-queries.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { readForecast } from '../forecast/form.ts'
import { insertForecast } from '../forecast/queries.ts'
import { workOutForecast, type Forecast } from '../forecast/work-out-queries.ts'
import { day, readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findPiece, listPieces, type Piece } from '../piece/queries.ts'
import { planRepeats } from '../plan/worked-queries.ts'
import { viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { listSittings } from '../sitting/queries.ts'
import { findQuotedAndActual } from './actual.ts'
import { beginQuote, withForecast } from './begin-queries.ts'
import { listUnready, readQuoteForm, readTermsForm, type ReadQuoteForm } from './form.ts'
import { quoteListPage, quoteNewPage, quotePaperPage, quoteResultsPage, quoteTermsPage } from './pages.ts'
import {
  answerQuote,
  deleteQuote,
  findQuote,
  findTerms,
  insertQuote,
  listQuotes,
  listSent,
  type Quote,
  saveQuote,
  saveTerms,
  sendQuote,
  setQuotePiece,
} from './queries.ts'
import { listResults } from './results.ts'
import { quoteShowPage } from './show-page.ts'

const ANSWERS = ['sent', 'accepted', 'declined', 'lapsed', 'withdrawn'] as const

/** Offers to clients: their owner's alone. That the guard has asked; nothing here reads anybody else's. */
export function quoteRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()
  const at = () => now().toISOString()
  const quoteAt = (text: string | undefined): Quote => {
    const quote = findQuote(db, readId(text, 'quote'))
    if (!quote) throw notFound('quote')
    return quote
  }
  const ownPieces = () => listPieces(db).filter(({ id }) => viewerMayOwn(db, 'piece', id))

  router.get('/quotes', (req, res) => void res.send(page('quote/list', quoteListPage(listQuotes(db), noticeOf(req)))))
  router.get('/quotes/results', (_req, res) => void res.send(page('quote/results', quoteResultsPage(listResults(db)))))

  router.get('/quotes/terms', (req, res) => {
    const { entered, version } = findTerms(db)
    res.send(page('quote/terms', quoteTermsPage({ entered, problems: {} }, String(version), noticeOf(req))))
  })
  router.post('/quotes/terms', (req, res) => {
    const form = readTermsForm(req.body)
    const { opened } = readEntered(req.body, ['opened'])
    if (Object.keys(form.problems).length > 0)
      return void res.status(422).send(page('quote/terms', quoteTermsPage(form, opened, '')))
    if (!saveTerms(db, form.entered, Number(opened), at())) {
      const kept = findTerms(db).version
      const why =
        'Other terms were kept in another window meanwhile. Yours stand below; saving again puts them in the place of those.'
      return void res.status(409).send(page('quote/terms', quoteTermsPage(form, String(kept), '', why)))
    }
    seeOther(res, '/quotes/terms', 'saved')
  })

  /** What a new quote is about: a piece of the viewer's own, or a draft that they may see. */
  const subjectOf = (source: unknown): { piece: Piece | undefined; revision: Revision | undefined } => {
    const { piece: pieceId, revision: revisionId } = readEntered(source, ['piece', 'revision'])
    const piece = pieceId === '' ? undefined : findPiece(db, readId(pieceId, 'piece'))
    if (pieceId !== '' && !(piece && viewerMayEdit(db, 'piece', piece.id))) throw notFound('piece')
    const wanted = piece ? piece.draftRevisionId : revisionId === '' ? undefined : readId(revisionId, 'revision')
    const revision = wanted === undefined ? undefined : findRevisionById(db, wanted)
    if (!piece && revisionId !== '' && !revision) throw notFound('revision')
    return { piece, revision }
  }
  const forecastOf = (piece: Piece | undefined, revision: Revision | undefined, source: unknown) => {
    if (!revision) return { forecast: undefined, problem: '' }
    const read = readForecast(source, revision.draft, piece ? planRepeats(db, piece.id) : null)
    const { repeats, expected } = read.wants
    const about = piece && { id: piece.id, sittings: listSittings(db, piece.id) }
    const forecast: Forecast | undefined =
      repeats === null ? undefined : workOutForecast(db, { draft: revision.draft, repeats, expected, piece: about })
    return { forecast, problem: read.problems.repeats ?? '' }
  }
  const newPage = (source: unknown) => {
    const { piece, revision } = subjectOf(source)
    const { forecast, problem } = forecastOf(piece, revision, source)
    const { repeats } = readEntered(source, ['repeats'])
    const about = piece
      ? { name: 'piece' as const, id: piece.id, title: piece.name }
      : revision && { name: 'revision' as const, id: revision.id, title: revision.draft.title }
    const says = forecast
      ? `The forecast gives ${sayHours(BigInt(Math.round((forecast.total.likely / 60) * 10)) * 100n)}: ${forecast.base} It is kept with the quote.`
      : revision
        ? 'With the number of repeats its hours are foretold; without it you type them.'
        : 'Hours are typed on the next page.'
    const needsRepeats = revision !== undefined && (repeats !== '' || !forecast)
    return {
      ...{ problem, piece, revision, forecast },
      html: page(
        'quote/new',
        quoteNewPage({
          about,
          forecast: says,
          repeats: needsRepeats ? { typed: repeats, problem } : undefined,
          pieces: ownPieces(),
        }),
      ),
    }
  }

  router.get('/quotes/new', (req, res) => void res.send(newPage(req.query).html))

  router.post('/quotes', (req, res) => {
    const { problem, html, piece, revision, forecast } = newPage(req.body)
    if (problem !== '') return void res.status(422).send(html)
    const id = db.write(() => {
      const on = today(context)
      const entered = beginQuote(db, { piece, revision, forecast, today: on })
      const about = piece ? { pieceId: piece.id } : { revisionId: revision?.id }
      const kept = { ...about, today: on, at: at(), keptBy: 'quote' as const }
      const forecastId = forecast && insertForecast(db, { ...kept, forecast })
      return insertQuote(db, { entered, pieceId: piece?.id, revisionId: revision?.id, forecastId }, at())
    })
    seeOther(res, `/quotes/${id}`, 'saved')
  })

  const show = (quote: Quote, form: ReadQuoteForm, version: string, isAsked: boolean, notice = '') =>
    page(
      'quote/show',
      quoteShowPage({
        ...{ quote, ...form, version, isAsked, notice, pieces: ownPieces(), today: today(context) },
        sent: listSent(db, quote.id),
        after: findQuotedAndActual(db, quote),
      }),
    )

  router.get('/quotes/:id', (req, res) => {
    const quote = quoteAt(req.params.id)
    // What is still missing stands beside its field, and is told at the head only after a button.
    res.send(show(quote, readQuoteForm(quote.entered), String(quote.version), false, noticeOf(req)))
  })

  // Only worked out, and nothing kept: for who has no script. By POST, for an address would tell the client's name.
  router.post('/quotes/:id/work', (req, res) => {
    const quote = quoteAt(req.params.id)
    res.send(show(quote, readQuoteForm(req.body), readEntered(req.body, ['version']).version, true))
  })

  router.post('/quotes/:id', (req, res) => {
    const quote = quoteAt(req.params.id)
    const form = readQuoteForm(req.body)
    const { version, then } = readEntered(req.body, ['version', 'then'])
    const unready = then === 'send' ? listUnready(form.entered) : {}
    const problems = { ...unready, ...form.problems }
    if (Object.keys(problems).length > 0)
      return void res.status(422).send(show(quote, { ...form, problems }, version, true))
    const isKept = db.write(() => {
      if (!saveQuote(db, quote.id, { entered: form.entered }, at())) return false
      return then !== 'send' || sendQuote(db, quote.id, { today: today(context), at: at() }) !== undefined
    })
    if (!isKept)
      throw new HttpError(409, 'This quote is answered, and is not changed any more. Copy it into a new one.')
    seeOther(res, `/quotes/${quote.id}`, then === 'send' ? 'quote-sent' : 'saved')
  })

  router.post('/quotes/:id/forecast', (req, res) => {
    const quote = quoteAt(req.params.id)
    const piece = quote.pieceId === undefined ? undefined : findPiece(db, quote.pieceId)
    const revision = findRevisionById(db, piece?.draftRevisionId ?? quote.revisionId ?? 0)
    const { forecast, problem } = forecastOf(piece, revision, req.body)
    if (!forecast || problem !== '')
      throw new HttpError(
        422,
        'There is nothing to foretell from: a forecast needs a draft, and how many repeats are woven.',
      )
    db.write(() => {
      const on = today(context)
      const about = piece ? { pieceId: piece.id } : { revisionId: revision?.id }
      const forecastId = insertForecast(db, { ...about, forecast, today: on, at: at(), keptBy: 'quote' })
      const entered = withForecast(quote.entered, forecast, on)
      if (!saveQuote(db, quote.id, { entered, forecastId }, at()))
        throw new HttpError(409, 'This quote is answered, and is not changed any more.')
    })
    seeOther(res, `/quotes/${quote.id}`, 'forecast-taken')
  })

  router.post('/quotes/:id/answer', (req, res) => {
    const quote = quoteAt(req.params.id)
    const { answer, day: typed } = readEntered(req.body, ['answer', 'day'])
    const state = ANSWERS.find((each) => each === answer)
    const read = day().safeParse(typed)
    const on = (read.success && read.data) || today(context)
    if (!state || !read.success || on > today(context))
      throw new HttpError(
        422,
        'Please say what became of it, and on which day; it cannot be one that has not come yet.',
      )
    if (!answerQuote(db, quote.id, { state, day: on }, at()))
      throw new HttpError(409, 'A quote is answered once it was sent.')
    seeOther(res, `/quotes/${quote.id}`, 'saved')
  })

  router.post('/quotes/:id/piece', (req, res) => {
    const quote = quoteAt(req.params.id)
    const { piece: typed } = readEntered(req.body, ['piece'])
    const piece = typed === '' ? null : readId(typed, 'piece')
    if (piece !== null && !(findPiece(db, piece) && viewerMayOwn(db, 'piece', piece))) throw notFound('piece')
    setQuotePiece(db, quote, piece, at())
    seeOther(res, `/quotes/${quote.id}`, 'saved')
  })

  router.post('/quotes/:id/copy', (req, res) => {
    const { entered, pieceId, revisionId, forecastId } = quoteAt(req.params.id)
    const id = insertQuote(db, { entered, pieceId, revisionId, forecastId }, at())
    seeOther(res, `/quotes/${id}`, 'quote-copied')
  })

  router.post('/quotes/:id/delete', (req, res) => {
    const quote = quoteAt(req.params.id)
    if (!deleteQuote(db, quote.id, at())) throw new HttpError(409, 'A quote that was sent can only be withdrawn.')
    seeOther(res, `/quotes?undo=quote-${quote.id}`, 'deleted')
  })

  router.get('/quotes/:id/paper', (req, res) => {
    const { id, entered, number, sent } = quoteAt(req.params.id)
    res.send(
      page('quote/paper', quotePaperPage(quotePaper(entered, { number, version: sent + 1, sentOn: '' }), id, true)),
    )
  })
  router.get('/quotes/:id/versions/:number', (req, res) => {
    const quote = quoteAt(req.params.id)
    const wanted = readId(req.params.number, 'version')
    const version = listSent(db, quote.id).find(({ number }) => number === wanted)
    if (!version) throw notFound('version')
    res.send(page('quote/paper', quotePaperPage(version.paper, quote.id, false)))
  })

  return router
}
