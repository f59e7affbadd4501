import { Router, type Response } from 'express'
import { seeOther } from '../notice.ts'
import type { MemberContext } from './context.ts'
import { cookiesFor } from './cookie.ts'
import { readAccountForm, readNewPassword } from './form.ts'
import { findOpenLink, joinByLink, resetByLink, type LinkKind } from './link-queries.ts'
import { hashPassword } from './password.ts'
import { findMember, hasMembers } from './queries.ts'
import { gonePage, joinPage, resetPage } from './sign-in-page.ts'
import { openSession } from './sign-in-routes.ts'

/** What stands behind one-time links: set-up, invitations, new passwords. */
export function linkRoutes(context: MemberContext): Router {
  const { db, page, now, log } = context
  const cookies = cookiesFor(context.baseUrl)
  const router = Router()

  const gone = (res: Response, kind: LinkKind) => void res.status(410).send(page('member/gone', gonePage(kind)))
  const linkAt = (kind: LinkKind, token: string) =>
    kind === 'setup' && hasMembers(db) ? undefined : findOpenLink(db, kind, token, now())

  for (const kind of ['setup', 'invite'] as const) {
    router.get(`/${kind}/:token`, (req, res) => {
      if (!linkAt(kind, req.params.token)) return gone(res, kind)
      res.send(page('member/join', joinPage(kind, req.params.token)))
    })

    router.post(`/${kind}/:token`, async (req, res) => {
      const { token } = req.params
      if (!linkAt(kind, token)) return gone(res, kind)
      const form = readAccountForm(req.body)
      if (!form.ok)
        return void res.status(422).send(page('member/join', joinPage(kind, token, form.entered, form.problems)))
      const { name, signInName, password } = form.value
      const member = { name, signInName, passwordHash: await hashPassword(password) }
      const begin = (id: number) => openSession(context, cookies, req, res, id)
      const joined = joinByLink(db, kind, member, { token, now: now(), begin })
      if (!joined.ok && joined.why === 'gone') return gone(res, kind)
      if (!joined.ok) {
        const problems = { signInName: 'Somebody else signs in with this name. Please take another.' }
        return void res.status(422).send(page('member/join', joinPage(kind, token, form.value, problems)))
      }
      log({ event: kind === 'setup' ? 'set-up' : 'joined', memberId: joined.id })
      seeOther(res, kind === 'setup' ? '/members' : '/', 'welcome')
    })
  }

  const memberOfReset = (token: string) => {
    const link = linkAt('reset', token)
    const id = link?.member_id ?? undefined
    const member = id === undefined ? undefined : findMember(db, id)
    return member?.leftAt === null ? member : undefined
  }

  router.get('/reset/:token', (req, res) => {
    const member = memberOfReset(req.params.token)
    if (!member) return gone(res, 'reset')
    res.send(page('member/join', resetPage(req.params.token, member.signInName)))
  })

  router.post('/reset/:token', async (req, res) => {
    const { token } = req.params
    const member = memberOfReset(token)
    if (!member) return gone(res, 'reset')
    const form = readNewPassword(req.body, member.signInName)
    if (!form.ok) {
      const view = resetPage(token, member.signInName, form.entered, form.problems)
      return void res.status(422).send(page('member/join', view))
    }
    const passwordHash = await hashPassword(form.value.password)
    const begin = (id: number) => openSession(context, cookies, req, res, id)
    const reset = resetByLink(db, passwordHash, { token, now: now(), begin })
    if (!reset.ok) return gone(res, 'reset')
    log({ event: 'password-reset', memberId: reset.id, endedTokens: reset.endedTokens })
    seeOther(res, '/', reset.endedTokens > 0 ? 'password-tokens' : 'password')
  })

  return router
}
