import { Router } from 'express'
import { accountRoutes } from './account-routes.ts'
import type { MemberContext } from './context.ts'
import { signInLimits } from './limit.ts'
import { linkRoutes } from './link-routes.ts'
import { membersRoutes } from './members-routes.ts'
import { signInRoutes } from './sign-in-routes.ts'

/** Everything about people: signing in, one-time links, who is in, one's own account. */
export function memberRoutes(context: MemberContext): Router {
  const limits = signInLimits(context.db)
  const router = Router()
  router.use(signInRoutes(context, limits))
  router.use(linkRoutes(context))
  router.use(membersRoutes(context))
  router.use(accountRoutes(context, limits))
  return router
}
