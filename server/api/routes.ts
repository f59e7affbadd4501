import express, { Router, type RequestHandler } from 'express'
import { rateLimit } from 'express-rate-limit'
import type { Db } from '../db/open.ts'
import { HttpError, notFound } from '../errors.ts'
import { steadyStore } from '../burst.ts'
import { isOwnOrigin, logForeign } from '../guard.ts'
import type { Log } from '../log.ts'
import { readDraft } from '../../shared/draft/document.ts'
import { reportDraft } from '../../shared/draft/report.ts'
import { compareQuantities } from '../../shared/measure/compare.ts'
import type { Quantity } from '../../shared/measure/quantity.ts'
import { paceOf } from '../../shared/work/pace.ts'
import { openApi } from './openapi.ts'
import { bearer } from '../member/bearer.ts'
import { untilGone } from '../off-thread.ts'
import { compareCall, inferCall, recoverCall } from './draft-calls.ts'
import { ApiRefusal, problemHandler, readBody, sendProblem } from './problem.ts'
import { compareShape, paceShape } from './shapes.ts'
import { convertYarn, planWarpCall } from './yarn.ts'

export interface ApiOptions {
  readonly db: Db
  readonly now: () => Date
  readonly isLoopback: boolean
  readonly baseUrl?: string | undefined
  readonly log: Log
  readonly onBroken: (error: unknown) => void
}

/** Tablets times picks of one request; the answer names every one of them twice. */
const MOST_CELLS = 1_000_000

/** Under /api/v1, without cookies. What computes only needs no token; what reads or writes asks by `needsScope`. */
export function apiRoutes(options: ApiOptions): Router {
  const router = Router()
  router.use(noForeignOrigin(options))
  router.use(
    rateLimit({
      windowMs: 60_000,
      limit: 600,
      standardHeaders: 'draft-8',
      legacyHeaders: false,
      validate: { xForwardedForHeader: false },
      store: steadyStore(60_000),
      handler: (_req, res) =>
        sendProblem(res, 429, 'More than 600 requests came within a minute; please wait a little.'),
    }),
  )
  router.use((_req, res, next) => {
    res.set('Cache-Control', 'no-store')
    next()
  })

  router.use(bearer(options))

  router.get(
    '/openapi.json',
    (_req, res) => void res.type('application/json').send(JSON.stringify(openApi(options.baseUrl ?? ''))),
  )

  computation(router, '/draft/weave', '4mb', (body) => {
    const read = readDraft(body)
    if (!read.ok) throw new ApiRefusal(422, 'This is not a draft document that can be woven.', read.problems)
    const cells = read.draft.tablets.length * read.draft.picks.length
    if (cells > MOST_CELLS) {
      const message = `${cells} cells (tablets times picks) are more than the ${MOST_CELLS} that one request weaves.`
      throw new ApiRefusal(413, message, [{ path: 'picks', message }])
    }
    return reportDraft(read.draft)
  })

  awaited(router, '/draft/infer', '12mb', inferCall)
  awaited(router, '/draft/compare', '24mb', compareCall)
  computation(router, '/draft/recover', '4mb', recoverCall)

  computation(router, '/measure/compare', '1mb', (body) => {
    const { original, replica } = readBody(compareShape, body)
    return inRange(() => compareQuantities(original as Quantity, replica as Quantity))
  })

  router.get('/yarn/convert', (req, res) => {
    res.type('application/json').send(JSON.stringify(convertYarn(req.query)))
  })
  router.all('/yarn/convert', only('GET'))
  computation(router, '/plan/warp', '4mb', planWarpCall)

  computation(router, '/work/pace', '1mb', (body) => paceOf(readBody(paceShape, body).sittings))

  router.use((_req, _res, next) => next(notFound('call')))
  router.use(problemHandler(options.onBroken))
  return router
}

/** One POST that takes JSON and computes; every other method on its path is refused by name. */
function computation(router: Router, path: string, limit: string, compute: (body: unknown) => unknown): void {
  router.post(path, jsonOnly, express.json({ limit, strict: true }), (req, res) => {
    if (req.body === undefined) throw new ApiRefusal(400, 'The request has no body; JSON is needed.', [])
    res.type('application/json').send(JSON.stringify(compute(req.body)))
  })
  router.all(path, only('POST'))
}

/** The same for what is worked out beside this thread: it ends when whoever asked has gone. */
function awaited(
  router: Router,
  path: string,
  limit: string,
  compute: (body: unknown, signal: AbortSignal) => Promise<unknown>,
): void {
  router.post(path, jsonOnly, express.json({ limit, strict: true }), async (req, res) => {
    if (req.body === undefined) throw new ApiRefusal(400, 'The request has no body; JSON is needed.', [])
    const answer = await untilGone(res, (signal) => compute(req.body, signal))
    if (answer !== undefined) res.type('application/json').send(JSON.stringify(answer))
  })
  router.all(path, only('POST'))
}

function only(method: 'GET' | 'POST'): RequestHandler {
  return (_req, res, next) => {
    res.set('Allow', method)
    next(new HttpError(405, `This call takes ${method}.`))
  }
}

const jsonOnly: RequestHandler = (req, _res, next) => {
  if (req.is('application/json')) return next()
  next(new HttpError(415, 'Send JSON with Content-Type: application/json.'))
}

/** No page but our own may use the API from a browser; a program sends no Origin and needs none. */
function noForeignOrigin({ baseUrl, log }: Pick<ApiOptions, 'baseUrl' | 'log'>): RequestHandler {
  return (req, _res, next) => {
    if (req.headers.origin === undefined || isOwnOrigin(req, baseUrl)) return next()
    logForeign(req, log)
    next(new HttpError(403, 'Pages of other addresses may not use this API.'))
  }
}

/** An argument out of range is the caller's, and `shared` names it. */
function inRange<T>(compute: () => T): T {
  try {
    return compute()
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    const path = /^(?:the mean of )?((?:original|replica)(?:\.[a-zA-Z]+|\[\d+\])*)/.exec(error.message)?.[1] ?? ''
    throw new ApiRefusal(422, 'The request has values that cannot be compared.', [{ path, message: error.message }])
  }
}
