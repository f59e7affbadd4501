import { Router, type Request, type RequestHandler } from 'express'
import { notFound, readId } from '../errors.ts'
import { parseForm, readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { accountPage, apiTokenPage, SCOPE_LABELS, type CameBack } from './account-page.ts'
import { deleteApiToken, insertApiToken, listApiTokens } from './api-token-queries.ts'
import type { MemberContext } from './context.ts'
import { cookiesFor } from './cookie.ts'
import { apiTokenSchema, changePasswordSchema, nameSchema } from './form.ts'
import type { SignInLimits } from './limit.ts'
import { toMoment } from './moment.ts'
import { hashPassword, passwordProblem, verifyPassword } from './password.ts'
import { findMember, findPasswordHash, updateName, updatePassword } from './queries.ts'
import { deleteSessionByKey, deleteSessions, listSessions } from './session-queries.ts'
import { openSession, sayWait } from './sign-in-routes.ts'

/** What a member sees to themselves: name, password, sessions, tokens for programs. */
export function accountRoutes(context: MemberContext, limits: SignInLimits): Router {
  const { db, page, now, zone, log } = context
  const cookies = cookiesFor(context.baseUrl)
  const router = Router()

  const you = () => {
    const id = currentMemberId()
    const member = id === null ? undefined : findMember(db, id)
    if (!member) throw notFound('account')
    return member
  }
  const view = (req: Request, back?: CameBack) => {
    const member = you()
    const sessions = listSessions(db, member.id, cookies.session(req), now())
    const words = { zone, now: now(), notice: back ? '' : noticeOf(req) }
    return page('member/account', accountPage(member, sessions, listApiTokens(db, member.id), words, back))
  }

  // A lone maker has no account; whoever follows an old link finds out how to get one.
  const needsAccount: RequestHandler = (_req, res, next) =>
    currentMemberId() === null ? seeOther(res, '/members') : next()
  router.use('/account', needsAccount)

  router.get('/account', (req, res) => void res.send(view(req)))

  router.post('/account', (req, res) => {
    const form = parseForm(req.body, nameSchema)
    if (!form.ok) return void res.status(422).send(view(req, { form: 'name', ...form }))
    updateName(db, you().id, form.value.name)
    seeOther(res, '/account', 'saved')
  })

  router.post('/account/password', async (req, res) => {
    const member = you()
    const { present, password } = changePasswordSchema.parse(readEntered(req.body, ['present', 'password']))
    const again = (status: number, problems: CameBack['problems']) =>
      void res.status(status).send(view(req, { form: 'password', entered: {}, problems }))
    const problem = passwordProblem(password, member.signInName)
    if (problem) return again(422, { password: problem })
    const turn = await limits.beginOwn(member.id)
    if (!turn.ok) return again(429, { present: sayWait(turn.waitSeconds) })
    if (!(await verifyPassword(findPasswordHash(db, member.id), present))) {
      log({ event: 'password-change-failed', memberId: member.id })
      return again(403, { present: 'This is not your present password. Nothing was changed.' })
    }
    const passwordHash = await hashPassword(password)
    await limits.succeed(turn.key)
    db.write(() => {
      updatePassword(db, member.id, passwordHash)
      openSession(context, cookies, req, res, member.id)
    })
    log({ event: 'password-changed', memberId: member.id })
    seeOther(res, '/account', 'password')
  })

  router.post('/account/sessions/end-others', (req, res) => {
    deleteSessions(db, you().id, cookies.session(req))
    log({ event: 'sessions-ended', memberId: you().id })
    seeOther(res, '/account', 'sessions')
  })

  router.post('/account/sessions/:key/end', (req, res) => {
    if (!deleteSessionByKey(db, you().id, req.params.key)) throw notFound('session')
    log({ event: 'session-ended', memberId: you().id })
    seeOther(res, '/account', 'sessions')
  })

  router.post('/account/tokens', (req, res) => {
    const form = parseForm(req.body, apiTokenSchema)
    if (!form.ok) return void res.status(422).send(view(req, { form: 'token', ...form }))
    const { name, scope, days } = form.value
    const expiresAt = new Date(now().getTime() + Number(days) * 24 * 60 * 60 * 1000).toISOString()
    const token = insertApiToken(db, you().id, { name, scope, expiresAt }, now())
    log({ event: 'token-made', memberId: you().id, scope })
    res.send(page('member/api-token', apiTokenPage(name, token, SCOPE_LABELS[scope], toMoment(expiresAt, zone))))
  })

  router.post('/account/tokens/:id/end', (req, res) => {
    if (!deleteApiToken(db, readId(req.params.id, 'token'), you().id)) throw notFound('token')
    log({ event: 'token-ended', memberId: you().id })
    seeOther(res, '/account', 'token-ended')
  })

  return router
}
