import { fileURLToPath } from 'node:url'
import express, { type ErrorRequestHandler, type Express, type Request, type Router } from 'express'
import { binRoutes } from './bin/routes.ts'
import { staleSaves, versionGuard } from './conflict/guard.ts'
import { historyRoutes } from './history/routes.ts'
import { archiveRoutes } from './archive/routes.ts'
import { compareRoutes } from './compare/routes.ts'
import type { Context } from './context.ts'
import { featureRoutes } from './claim/feature-routes.ts'
import { exchangeRoutes } from './exchange/routes.ts'
import { claimRoutes } from './claim/routes.ts'
import { printAfterChanges } from './citation/keep.ts'
import { originalRoutes } from './original/routes.ts'
import { catalogueRoutes } from './catalogue/routes.ts'
import { isDiskFailing, toDiskRefusal } from './disk-fault.ts'
import { HttpError, notFound, SignInFirst } from './errors.ts'
import { rememberedLook } from './look/look.ts'
import { lookRoutes } from './look/routes.ts'
import { loomRoutes } from './loom/routes.ts'
import { forecastRoutes } from './forecast/routes.ts'
import { homeRoutes } from './home/routes.ts'
import { hoursRoutes } from './hours/routes.ts'
import { healthRoutes } from './keeper/health.ts'
import { keeperRoutes, notWhileRestoring } from './keeper/routes.ts'
import type { Log } from './log.ts'
import { memberRoutes } from './member/routes.ts'
import { resendPage } from './member/sign-in-page.ts'
import { onceGuard } from './once.ts'
import type { Page } from './pages.ts'
import { burstLimit, BURST, EXPORTS } from './burst.ts'
import { isHttps, knownHost, knownMethod, noTrace, ownOrigin, securityHeaders, timelyBody } from './guard.ts'
import { apiRoutes } from './api/routes.ts'
import { draftBenchRoutes } from './draft-bench/routes.ts'
import { cardRoutes } from './card/routes.ts'
import { conventionRoutes } from './convention/routes.ts'
import { draftExportRoutes } from './draft-export/routes.ts'
import { draftImportRoutes } from './draft-import/routes.ts'
import { draftPictureRoutes } from './draft/picture-routes.ts'
import { draftRoutes } from './draft/routes.ts'
import { fibreRoutes } from './fibre/routes.ts'
import { readFormBody } from './form-body.ts'
import { allFidelityRoutes } from './fidelity/all-routes.ts'
import { inferRoutes } from './infer/routes.ts'
import { viewerOf } from './member/viewer-of.ts'
import { observedRoutes } from './observed/routes.ts'
import { overlayRoutes } from './overlay/routes.ts'
import { reckonRoutes } from './reckon/routes.ts'
import { recoverRoutes } from './recover/routes.ts'
import { photoFileRoutes } from './photo/file-routes.ts'
import { photoRoutes } from './photo/routes.ts'
import { paceRoutes } from './pace/routes.ts'
import { pieceRoutes } from './piece/routes.ts'
import { planRoutes } from './plan/routes.ts'
import { quoteRoutes } from './quote/routes.ts'
import { rightsGuard } from './rights/guard.ts'
import type { Viewer } from './rights/viewer.ts'
import { lotColourRoutes } from './yarn/draft-routes.ts'
import { lotRoutes } from './yarn/lot-routes.ts'
import { yarnRoutes } from './yarn/routes.ts'
import { settleRoutes } from './yarn/settle-routes.ts'
import { yarnTableRoutes } from './yarn/table-routes.ts'
import { sharingRoutes } from './sharing/routes.ts'
import { basePathOf } from './settings.ts'
import { tellRoutes } from './tell/routes.ts'
import { sittingRoutes } from './sitting/routes.ts'
import { allSourceRoutes } from './source/all-routes.ts'

export interface AppOptions extends Context {
  /** Whether only this machine can reach the program. */
  readonly isLoopback: boolean
  readonly baseUrl?: string | undefined
  /** Who is asking, where it is known otherwise than by signing in: tests say so. */
  readonly viewerOf?: ((req: Request) => Viewer) | undefined
  /** Sign-ins, failures, changes of roles; nowhere if left out. */
  readonly log?: Log | undefined
  /** Called once with what broke; the reader never sees it. */
  readonly onBroken: (error: unknown) => void
}

const ASSETS = fileURLToPath(new URL('../dist/assets', import.meta.url))

/** The whole program as an Express app, without a port. */
export function createApp(given: AppOptions): Express {
  const options = { ...given, log: given.log ?? (() => undefined), page: withWarning(given) }
  const base = basePathOf(options.baseUrl)
  const app = express()
  app.disable('x-powered-by')
  app.set('query parser', 'simple')
  // One proxy of ours stands before a public address; nobody else is believed about where they come from.
  app.set('trust proxy', options.baseUrl === undefined ? false : 1)
  app.use(securityHeaders(options.baseUrl), timelyBody(30_000), noTrace, knownHost(options))
  app.use((_req, res, next) => {
    res.locals.base = base
    next()
  })
  app.use(`${base}/api/v1`, apiRoutes(options))
  app.use(base || '/', assets(), pages(options))
  app.use((_req, _res, next) => next(notFound('page')))
  app.use(errorPage(options))
  return app
}

function assets(): Router {
  const router = express.Router()
  router.use('/assets', express.static(ASSETS, { immutable: true, maxAge: '1y', index: false, redirect: false }))
  return router
}

/** Every page knows whether what is sent to it can be read on the way. */
function withWarning({ page, isLoopback, baseUrl }: AppOptions): Page {
  const travelsOpenly = !isLoopback && !isHttps(baseUrl)
  return (name, data) => page(name, { ...data, travelsOpenly })
}

/** Everything with a form; the API stands beside it with rules of its own. */
function pages(options: AppOptions & { readonly log: Log }): Router {
  const router = express.Router()
  router.use(burstLimit(BURST, () => options.isLoopback))
  router.use(rememberedLook(), knownMethod, ownOrigin(options.baseUrl, options.log))
  router.use(readFormBody)
  router.use((_req, res, next) => {
    res.set('Cache-Control', 'no-store')
    next()
  })
  router.use(healthRoutes(options), notWhileRestoring(options))
  router.use(rightsGuard(options.db, options.viewerOf ?? ((req) => viewerOf(options.db, req, options))))
  router.use(onceGuard(), versionGuard(options), printAfterChanges(options.references))
  router.use(memberRoutes(options))
  router.get(
    '/pieces/:id/export.zip',
    burstLimit(EXPORTS, () => options.isLoopback),
  )
  router.use(archiveRoutes(options))
  router.use(compareRoutes(options))
  router.use(allSourceRoutes(options))
  router.use(allFidelityRoutes(options))
  router.use(draftBenchRoutes(options))
  router.use(draftImportRoutes(options))
  router.use(draftExportRoutes(options))
  router.use(inferRoutes(options))
  router.use(recoverRoutes(options))
  router.use(reckonRoutes(options))
  router.use(overlayRoutes(options))
  router.use(draftRoutes(options))
  router.use(draftPictureRoutes(options))
  router.use(tellRoutes(options))
  router.use(conventionRoutes(options))
  router.use(cardRoutes(options))
  router.use(pieceRoutes(options))
  router.use(yarnTableRoutes(options))
  // Before the yarns: none is called “fibres”.
  router.use(fibreRoutes(options))
  router.use(yarnRoutes(options))
  router.use(lotRoutes(options))
  router.use(settleRoutes(options))
  router.use(lotColourRoutes(options))
  router.use(planRoutes(options))
  router.use(forecastRoutes(options))
  router.use(quoteRoutes(options))
  router.use(loomRoutes(options))
  router.use(sittingRoutes(options))
  router.use(hoursRoutes(options))
  router.use(paceRoutes(options))
  router.use(photoRoutes(options))
  router.use(photoFileRoutes(options))
  router.use(observedRoutes(options))
  router.use(exchangeRoutes(options))
  router.use(originalRoutes(options))
  router.use(claimRoutes(options))
  router.use(featureRoutes(options))
  router.use(catalogueRoutes(options))
  router.use(sharingRoutes(options))
  router.use(homeRoutes(options))
  router.use(lookRoutes(options))
  router.use(keeperRoutes(options))
  router.use(binRoutes(options))
  router.use(historyRoutes(options))
  router.use(staleSaves(options))
  return router
}

const LIMITS: Record<string, HttpError> = {
  'parameters.too.many': new HttpError(413, 'That form had more fields than are taken in one go.'),
  'charset.unsupported': new HttpError(415, 'Only UTF-8 is taken here.'),
  'encoding.unsupported': new HttpError(415, 'Only what is not compressed, or compressed by gzip, is taken here.'),
}

/** The one error page. A refusal says its sentence; anything else is logged and shown without a word of it. */
function errorPage({ page, onBroken }: AppOptions): ErrorRequestHandler {
  return (error, req, res, next) => {
    if (res.headersSent) return next(error)
    if (error instanceof SignInFirst) {
      const action = req.originalUrl.slice(String(res.locals.base).length)
      return void res.status(403).send(page('member/resend', resendPage(action, req.body)))
    }
    const refusal = toRefusal(error)
    if (!refusal || isDiskFailing(refusal)) onBroken(error)
    // A session that was begun and not kept would be one that nobody knows.
    res.removeHeader('Set-Cookie')
    const status = refusal?.status ?? 500
    const message =
      refusal?.message ?? 'Something broke on our side. What you sent was not kept; what was kept before is untouched.'
    if (status === 503) res.set('Retry-After', '2')
    res.status(status).send(errorHtml(page, ERROR_TITLES[status] ?? 'That did not work', message, onBroken))
  }
}

/** Where the error page itself breaks there is a plainer one beneath it; Express's own would print the stack. */
function errorHtml(page: Page, title: string, message: string, onBroken: AppOptions['onBroken']): string {
  try {
    return page('error/show', { title, section: 'home', message })
  } catch (error) {
    onBroken(error)
    return `<!doctype html><html lang="en-GB"><meta charset="utf-8"><title>Fellmark</title><p>Something broke.</p></html>`
  }
}

const ERROR_TITLES: Record<number, string> = {
  400: 'That could not be read',
  403: 'Refused',
  404: 'Not there',
  409: 'Not possible as things stand',
  413: 'Too much at once',
  429: 'Too fast',
  500: 'Something broke',
  503: 'Not just now',
  507: 'The disk is full',
}

/** What Express's body parser says of a request that it could not read; `expose` tells it from a fault of ours. */
interface FromParser {
  readonly type?: string
  readonly code?: string
  readonly status?: number
  readonly expose?: boolean
  readonly limit?: number
}

export function toRefusal(error: unknown): HttpError | undefined {
  if (error instanceof HttpError) return error
  if (!(error instanceof Error)) return undefined
  const { type, code, status, expose, limit } = error as Error & FromParser
  if (limit !== undefined && type === 'entity.too.large')
    return new HttpError(413, `That was more than is taken in one go (${Math.round(limit / 1024 / 1024)} MB).`)
  if (type && LIMITS[type]) return LIMITS[type]
  const ofDisk = toDiskRefusal(error as Error & FromParser)
  if (ofDisk) return ofDisk
  if (code === 'SQLITE_BUSY')
    return new HttpError(503, 'The notebook is busy with another program just now. Please try again in a moment.')
  if (error instanceof URIError || (status === 400 && expose))
    return new HttpError(400, 'That request could not be read.')
  return undefined
}

declare module './pages.ts' {
  interface Pages {
    'error/show': { readonly message: string }
  }
}
