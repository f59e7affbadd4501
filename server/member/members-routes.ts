import { Router, type Request } from 'express'
import { HttpError, notFound, readId } from '../errors.ts'
import { parseForm } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { MemberContext } from './context.ts'
import { cookiesFor } from './cookie.ts'
import { leaveSchema, readAccountForm, ROLE_LABELS, roleSchema } from './form.ts'
import { countOwned, endMembership } from './leave-queries.ts'
import { deleteInvitation, insertInvite, insertResetLink, LINK_HOURS, listInvitations } from './link-queries.ts'
import { firstPage, leavePage, linkPage, listPage } from './members-page.ts'
import { toMoment } from './moment.ts'
import { hashPassword } from './password.ts'
import { findMember, hasMembers, insertFirstKeeper, listMembers, updateRole } from './queries.ts'
import { openSession } from './sign-in-routes.ts'

const LAST_KEEPER = 'Somebody has to keep the notebook, and nobody else does. Make somebody else a keeper first.'

/** Who is in, for those who keep the notebook; and how a lone maker stops being alone. */
export function membersRoutes(context: MemberContext): Router {
  const { db, page, now, zone, log } = context
  const cookies = cookiesFor(context.baseUrl)
  const router = Router()

  const memberAt = (text: string | undefined) => {
    const member = findMember(db, readId(text, 'person'))
    if (!member || member.leftAt !== null) throw notFound('person')
    return member
  }
  /** Only addresses that this notebook answers come this far, so the one that was asked will do for a link. */
  const addressOf = (req: Request, path: string) =>
    `${context.baseUrl ?? `http://${req.get('host') ?? 'localhost'}`}${path}`
  const untilOf = (kind: 'invite' | 'reset') =>
    toMoment(new Date(now().getTime() + LINK_HOURS[kind] * 60 * 60 * 1000).toISOString(), zone)

  router.get('/members', (req, res) => {
    if (!hasMembers(db)) return void res.send(page('member/first', firstPage()))
    const people = listMembers(db)
    const view = listPage(people, listInvitations(db, now()), currentMemberId() ?? 0, zone, noticeOf(req))
    res.send(page('member/list', view))
  })

  router.post('/members/first', async (req, res) => {
    const taken = new HttpError(409, 'This notebook has a keeper already. Please sign in.')
    if (hasMembers(db)) throw taken
    const form = readAccountForm(req.body)
    if (!form.ok) return void res.status(422).send(page('member/first', firstPage(form.entered, form.problems)))
    const { name, signInName, password } = form.value
    const member = { name, signInName, passwordHash: await hashPassword(password) }
    const id = db.write(() => {
      const made = insertFirstKeeper(db, member, now())
      if (made === 'notFirst') throw taken
      openSession(context, cookies, req, res, made)
      return made
    })
    log({ event: 'set-up', memberId: id })
    seeOther(res, '/members', 'first-member')
  })

  router.post('/members/invite', (req, res) => {
    const form = parseForm(req.body, roleSchema)
    if (!form.ok) throw new HttpError(422, form.problems.role ?? 'Please choose a role.')
    if (!hasMembers(db)) throw new HttpError(409, 'Make your own account first.')
    const { role } = form.value
    const address = addressOf(req, `/invite/${insertInvite(db, role, now())}`)
    log({ event: 'invited', by: currentMemberId(), role })
    const lead = `It makes one account with the role of a ${ROLE_LABELS[role].toLowerCase()}. Copy it now and hand it on yourself: it is shown this once, and nothing is mailed.`
    res.send(page('member/link', linkPage('Invitation', lead, address, untilOf('invite'))))
  })

  router.post('/members/invitations/:key/withdraw', (req, res) => {
    if (!deleteInvitation(db, req.params.key)) throw notFound('invitation')
    log({ event: 'invitation-withdrawn', by: currentMemberId() })
    seeOther(res, '/members', 'invitation-withdrawn')
  })

  router.post('/members/:id/reset', (req, res) => {
    const member = memberAt(req.params.id)
    const address = addressOf(req, `/reset/${insertResetLink(db, member, now())}`)
    log({ event: 'reset-link', memberId: member.id, by: currentMemberId() })
    const lead = `With it ${member.name} chooses a new password; whoever has it can do the same, so hand it to nobody else. The present password holds until then. It is shown this once.`
    res.send(page('member/link', linkPage(`New password for ${member.name}`, lead, address, untilOf('reset'))))
  })

  router.post('/members/:id/role', (req, res) => {
    const member = memberAt(req.params.id)
    const form = parseForm(req.body, roleSchema)
    if (!form.ok) throw new HttpError(422, form.problems.role ?? 'Please choose a role.')
    const outcome = updateRole(db, member.id, form.value.role)
    if (outcome === 'absent') throw notFound('person')
    if (outcome === 'lastKeeper') throw new HttpError(409, LAST_KEEPER)
    log({ event: 'role', memberId: member.id, from: member.role, to: form.value.role, by: currentMemberId() })
    // Who has just stopped being a keeper cannot see this page any more.
    const stays = member.id !== currentMemberId() || form.value.role === 'keeper'
    seeOther(res, stays ? '/members' : '/', 'role')
  })

  const leaveView = (id: string | undefined, problem = '') => {
    const member = memberAt(id)
    return leavePage(member, countOwned(db, member.id), listMembers(db), currentMemberId() ?? 0, problem)
  }

  router.get('/members/:id/leave', (req, res) => void res.send(page('member/leave', leaveView(req.params.id))))

  router.post('/members/:id/leave', (req, res) => {
    const member = memberAt(req.params.id)
    const form = parseForm(req.body, leaveSchema)
    if (!form.ok) return void res.status(422).send(page('member/leave', leaveView(req.params.id, form.problems.estate)))
    const { estate } = form.value
    const you = currentMemberId() ?? 0
    const otherKeeper = listMembers(db).find(({ id, role }) => id !== member.id && role === 'keeper')
    const binKeeper = member.id === you ? otherKeeper?.id : you
    const heirId = estate === 'bin' ? binKeeper : Number(estate)
    if (heirId === undefined) throw new HttpError(409, LAST_KEEPER)
    const outcome = endMembership(db, member.id, { heirId, toBin: estate === 'bin' }, now())
    if (outcome === 'absent') throw notFound('person')
    if (outcome === 'lastKeeper') throw new HttpError(409, LAST_KEEPER)
    if (outcome === 'noHeir') {
      const view = leaveView(req.params.id, 'Please choose somebody who can look after it.')
      return void res.status(422).send(page('member/leave', view))
    }
    log({ event: 'membership-ended', memberId: member.id, heirId, toBin: estate === 'bin', by: you })
    seeOther(res, member.id === you ? '/sign-in' : '/members', 'left')
  })

  return router
}
