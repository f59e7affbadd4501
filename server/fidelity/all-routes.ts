import { Router } from 'express'
import type { Context } from '../context.ts'
import { decisionRoutes } from '../decision/routes.ts'
import { weightingRoutes } from '../weighting/routes.ts'
import { fidelityRoutes } from './routes.ts'

/** How near pieces come, what was decided on the way, and what counts how much. */
export function allFidelityRoutes(context: Context): Router {
  const router = Router()
  router.use(fidelityRoutes(context), decisionRoutes(context), weightingRoutes(context))
  return router
}
