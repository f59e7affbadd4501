import { Router, type Request, type Response } from 'express'
import { readEntered } from '../form.ts'
import { isSecureContext } from '../guard.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { currentViewer } from '../rights/viewer.ts'
import type { MemberContext } from './context.ts'
import { cookiesFor, type Cookies } from './cookie.ts'
import { findKnownDevice, keepDevice } from './device-queries.ts'
import { signInSchema } from './form.ts'
import type { SignInLimits } from './limit.ts'
import { networkOf } from './network.ts'
import { readNextPath } from './next-path.ts'
import { verifyPassword } from './password.ts'
import { findForSignIn, hasMembers } from './queries.ts'
import { deleteSession, insertSession } from './session-queries.ts'
import { signInPage } from './sign-in-page.ts'

const WRONG = 'This name and this password do not belong together. Please look at both again.'
const NOBODY = 'Nobody has an account here yet. The program printed a link for the first one when it was started.'

/** The client's address: behind a proxy of ours what it says, otherwise whoever holds the connection. */
export const networkOfRequest = (req: Request) => networkOf(req.ip ?? '')

export function signInRoutes(context: MemberContext, limits: SignInLimits): Router {
  const { db, page, log, isLoopback } = context
  const cookies = cookiesFor(context.baseUrl)
  const router = Router()

  router.get('/sign-in', (req, res) => {
    const next = readNextPath(req.query.next)
    if (currentViewer().kind !== 'anonymous') return seeOther(res, next)
    const nobody = hasMembers(db) || isLoopback ? '' : NOBODY
    res.send(page('member/sign-in', signInPage({ signInName: '', next }, '', nobody, noticeOf(req))))
  })

  router.post('/sign-in', async (req, res) => {
    const next = readNextPath(readEntered(req.body, ['next']).next)
    const { signInName, password } = signInSchema.parse(readEntered(req.body, ['signInName', 'password']))
    const member = findForSignIn(db, signInName)
    const device = member && findKnownDevice(db, cookies.device(req), member.id)
    const network = networkOfRequest(req)
    const turn = await limits.begin({ signInName, network, device })
    const about = { memberId: member?.id ?? null, network }
    if (!turn.ok) {
      log({ event: 'sign-in-held-up', ...about, waitSeconds: turn.waitSeconds })
      res.set('Retry-After', String(turn.waitSeconds))
      const view = signInPage({ signInName, next }, sayWait(turn.waitSeconds))
      return void res.status(429).send(page('member/sign-in', view))
    }
    if (!(await verifyPassword(member?.passwordHash, password)) || !member) {
      log({ event: 'sign-in-failed', ...about })
      return void res.status(422).send(page('member/sign-in', signInPage({ signInName, next }, WRONG)))
    }
    await limits.succeed(turn.key)
    log({ event: 'sign-in', ...about })
    openSession(context, cookies, req, res, member.id)
    seeOther(res, next)
  })

  router.post('/sign-out', (req, res) => {
    const viewer = currentViewer()
    const token = cookies.session(req)
    if (token !== undefined) deleteSession(db, token)
    if (viewer.kind === 'member') log({ event: 'sign-out', memberId: viewer.id })
    cookies.clearSession(res)
    if (isSecureContext(req, context.baseUrl)) res.set('Clear-Site-Data', '"cache"')
    seeOther(res, '/sign-in', 'signed-out')
  })

  return router
}

/** A session of its own for this browser; the one that it came with ends, whosever it was. */
export function openSession(
  { db, now }: MemberContext,
  cookies: Cookies,
  req: Request,
  res: Response,
  id: number,
): void {
  const old = cookies.session(req)
  db.write(() => {
    if (old !== undefined) deleteSession(db, old)
    cookies.setSession(res, insertSession(db, id, req.get('user-agent') ?? '', now()))
    cookies.setDevice(res, keepDevice(db, cookies.device(req), id, now()))
  })
}

/** How long somebody is held up, in words. */
export function sayWait(seconds: number): string {
  const minutes = Math.ceil(seconds / 60)
  return `That was tried too often. Please wait ${minutes === 1 ? 'a minute' : `${minutes} minutes`}, then try again; a keeper can also give you a link for a new password.`
}
