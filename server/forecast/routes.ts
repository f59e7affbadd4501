import { Router, type Request } from 'express'
import type { Draft } from '../../shared/draft/draft.ts'
import { calibrationOf } from '../../shared/work/calibration.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { today, type Context } from '../context.ts'
import { findRevision, findRevisionById, type Revision } from '../draft/revision-queries.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findPiece, listPieces, type Piece } from '../piece/queries.ts'
import { planRepeats } from '../plan/worked-queries.ts'
import { viewerMayCreate, viewerMayEdit } from '../rights/allowed.ts'
import { listSittings } from '../sitting/queries.ts'
import { readForecast, type ReadForecast } from './form.ts'
import { forecastListPage, forecastPage, type ShownForecast } from './pages.ts'
import { findForecast, insertForecast, listForecasts, setForecastPiece } from './queries.ts'
import { workOutForecast, type Forecast } from './work-out-queries.ts'

/** Hours still to go, hours of a band never woven, and how such forecasts held. */
export function forecastRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()

  const ofPiece = (piece: Piece, draft: Draft, source: unknown) => {
    const read = readForecast(source, draft, planRepeats(db, piece.id))
    return { read, forecast: forecastOf(draft, read, piece) }
  }
  const forecastOf = (
    draft: Draft,
    { wants: { repeats, expected } }: ReadForecast,
    piece?: Piece,
  ): Forecast | undefined =>
    repeats === null
      ? undefined
      : workOutForecast(db, {
          draft,
          repeats,
          expected,
          piece: piece && { id: piece.id, sittings: listSittings(db, piece.id) },
        })

  router.get('/pieces/:id/forecast', (req, res) => {
    const piece = findPiece(db, readId(req.params.id, 'piece'))
    if (!piece) throw notFound('piece')
    const revision = findRevisionById(db, piece.draftRevisionId ?? 0)
    // A forecast counts the picks of a draft: the page of the plan asks for one.
    if (!revision) return void seeOther(res, `/pieces/${piece.id}/plan`)
    const { read, forecast } = ofPiece(piece, revision.draft, req.query)
    const shown: ShownForecast = {
      head: {
        ...{
          section: 'pieces',
          kicker: 'Forecast',
          heading: piece.name,
          backPath: `/pieces/${piece.id}`,
          backLabel: 'The piece',
        },
        lead: forecast?.kind === 'whole' ? 'Hours of the whole piece.' : 'Hours still to go.',
        ...{ action: `/pieces/${piece.id}/forecast`, quotePath: `/quotes/new?piece=${piece.id}` },
      },
      subject: { name: 'piece', id: piece.id },
      ...{ read, forecast, today: today(context), mayKeep: viewerMayCreate(), notice: noticeOf(req) },
      why: 'How many repeats the whole band is to have is not said yet: type it below, or in the plan of the piece.',
      kept: listForecasts(db).filter(({ pieceId }) => pieceId === piece.id),
    }
    res.status(hasProblem(read) ? 422 : 200).send(page('forecast/show', forecastPage(shown)))
  })

  router.get('/drafts/:id/revisions/:number/forecast', (req: Request<{ id: string; number: string }>, res) => {
    const revision = findRevision(db, readId(req.params.id, 'draft'), readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    const read = readForecast(req.query, revision.draft, null)
    const { draft, draftId, number } = revision
    const path = `/drafts/${draftId}/revisions/${number}`
    const shown: ShownForecast = {
      head: {
        ...{ section: 'drafts', kicker: 'Forecast', heading: draft.title, backPath: path, backLabel: 'The draft' },
        lead: `Hours of a band that was never woven: ${sayCount(draft.tablets.length, 'tablet')}, ${sayCount(draft.picks.length, 'pick')} in the repeat.`,
        ...{ action: `${path}/forecast`, quotePath: `/quotes/new?revision=${revision.id}` },
      },
      subject: { name: 'revision', id: revision.id },
      ...{
        read,
        forecast: forecastOf(draft, read),
        today: today(context),
        mayKeep: viewerMayCreate(),
        notice: noticeOf(req),
      },
      why: 'Say how long the band is to be: its repeats, or its length and the picks per cm.',
      kept: [],
    }
    res.status(hasProblem(read) ? 422 : 200).send(page('forecast/show', forecastPage(shown)))
  })

  router.get('/forecasts', (req, res) => {
    const kept = listForecasts(db)
    const held = kept.flatMap(({ lowMinutes: low, highMinutes: high, actualMinutes: actual }) =>
      actual === undefined ? [] : [{ low, high, actual }],
    )
    const pieces = listPieces(db).filter(({ id }) => viewerMayEdit(db, 'piece', id))
    res.send(page('forecast/list', forecastListPage(kept, calibrationOf(held), pieces, noticeOf(req))))
  })

  router.post('/forecasts', (req, res) => {
    const { piece: pieceId, revision: revisionId } = readEntered(req.body, ['piece', 'revision'])
    const piece = pieceId === '' ? undefined : findPiece(db, readId(pieceId, 'piece'))
    if (pieceId !== '' && !(piece && viewerMayEdit(db, 'piece', piece.id))) throw notFound('piece')
    const revision: Revision | undefined = findRevisionById(
      db,
      piece ? (piece.draftRevisionId ?? 0) : readId(revisionId, 'revision'),
    )
    if (!revision) throw notFound('revision')
    const read = readForecast(req.body, revision.draft, piece ? planRepeats(db, piece.id) : null)
    const forecast = forecastOf(revision.draft, read, piece)
    if (!forecast || hasProblem(read)) throw new HttpError(422, 'There is no forecast to keep yet: work it out first.')
    const about = piece ? { pieceId: piece.id } : { revisionId: revision.id }
    insertForecast(db, { ...about, forecast, today: today(context), at: now().toISOString(), keptBy: 'button' })
    seeOther(res, '/forecasts', 'forecast-kept')
  })

  router.post('/forecasts/:id', (req, res) => {
    const forecast = findForecast(db, readId(req.params.id, 'forecast'))
    if (!forecast) throw notFound('forecast')
    const { piece: typed } = readEntered(req.body, ['piece'])
    const piece = typed === '' ? null : readId(typed, 'piece')
    if (piece !== null && !(findPiece(db, piece) && viewerMayEdit(db, 'piece', piece))) throw notFound('piece')
    setForecastPiece(db, forecast.id, piece)
    seeOther(res, '/forecasts', 'saved')
  })

  return router
}

const hasProblem = ({ problems }: ReadForecast) => Object.keys(problems).length > 0
