import { get, KEEPER, OPEN, post, SIGNED_IN, type RouteRight } from './route-right.ts'

/** Signing in, accounts and the people of a notebook. */
export const MEMBER_ROUTES: readonly RouteRight[] = [
  get('/sign-in', OPEN),
  post('/sign-in', OPEN),
  post('/sign-out', OPEN),
  get('/setup/:token', OPEN),
  post('/setup/:token', OPEN),
  get('/invite/:token', OPEN),
  post('/invite/:token', OPEN),
  get('/reset/:token', OPEN),
  post('/reset/:token', OPEN),
  // The viewer's own alone: the handlers find nothing else.
  get('/account', SIGNED_IN),
  post('/account', SIGNED_IN),
  post('/account/password', SIGNED_IN),
  post('/account/sessions/end-others', SIGNED_IN),
  post('/account/sessions/:key/end', SIGNED_IN),
  post('/account/tokens', SIGNED_IN),
  post('/account/tokens/:id/end', SIGNED_IN),
  get('/members', KEEPER),
  post('/members/first', KEEPER),
  post('/members/invite', KEEPER),
  post('/members/invitations/:key/withdraw', KEEPER),
  post('/members/:id/reset', KEEPER),
  post('/members/:id/role', KEEPER),
  get('/members/:id/leave', KEEPER),
  post('/members/:id/leave', KEEPER),
]
