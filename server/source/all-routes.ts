import { Router } from 'express'
import { citationRoutes } from '../citation/routes.ts'
import { unsupportedRoutes } from '../claim/unsupported.ts'
import type { Context } from '../context.ts'
import { sourceExportRoutes } from '../source-export/routes.ts'
import { sourceImportRoutes } from '../source-import/routes.ts'
import { sourceRoutes } from './routes.ts'

/** Sources, their files and references. Addresses with a fixed word come before those with an id. */
export function allSourceRoutes(context: Context & { readonly baseUrl?: string | undefined }): Router {
  const router = Router()
  router.use(sourceExportRoutes(context), sourceImportRoutes(context))
  router.use(citationRoutes(context), unsupportedRoutes(context), sourceRoutes(context))
  return router
}
