import type { Db } from '../db/open.ts'
import { asViewer, PROGRAM } from '../rights/viewer.ts'
import { ROLE_KEYS } from '../member/form.ts'
import { insertInvite, insertResetLink, insertSetupLink } from '../member/link-queries.ts'
import { findForSignIn, hasMembers, listMembers, updateRole } from '../member/queries.ts'
import { deleteSessions } from '../member/session-queries.ts'
import { UsageRefusal, withNotebook, type Command, type Desk, type ExitCode } from './command.ts'

/** Everything that helps a keeper who cannot sign in any more. */
export const memberCommand: Command = {
  usage: 'list | setup | invite ROLE | reset SIGN-IN-NAME | role SIGN-IN-NAME ROLE | sign-out SIGN-IN-NAME',
  about: 'who is in, links that open once, roles',
  run: ([action, ...args], desk) =>
    withNotebook(desk, (db) => asViewer(PROGRAM, () => runAction(db, desk, action, args))),
}

function runAction(db: Db, desk: Desk, action: string | undefined, args: readonly string[]): ExitCode {
  const [first, second] = args
  if (action === 'list' && args.length === 0) return list(db, desk)
  if (action === 'setup' && args.length === 0) {
    if (hasMembers(db)) return refuse(desk, 'This notebook has a keeper already; see "member reset".')
    return hand(desk, 'Open within an hour', `/setup/${insertSetupLink(db, desk.now())}`)
  }
  if (action === 'invite' && args.length === 1) {
    const role = readRole(first)
    if (!hasMembers(db)) return refuse(desk, 'Nobody keeps this notebook yet; see "member setup".')
    return hand(desk, 'Open within 7 days', `/invite/${insertInvite(db, role, desk.now())}`)
  }
  if (action === 'reset' && args.length === 1) {
    const member = memberOf(db, first)
    return hand(desk, 'Open within 24 hours', `/reset/${insertResetLink(db, member, desk.now())}`)
  }
  if (action === 'role' && args.length === 2) {
    const outcome = updateRole(db, memberOf(db, first).id, readRole(second))
    if (outcome === 'lastKeeper')
      return refuse(desk, 'Nobody else keeps the notebook; make somebody else a keeper first.')
    desk.say(`${first} is a ${second} now.`)
    return 0
  }
  if (action === 'sign-out' && args.length === 1) {
    const ended = deleteSessions(db, memberOf(db, first).id)
    desk.say(`${ended} ${ended === 1 ? 'session' : 'sessions'} ended.`)
    return 0
  }
  throw new UsageRefusal('')
}

function list(db: Db, desk: Desk): ExitCode {
  const members = listMembers(db)
  if (members.length === 0) desk.say('Nobody has an account yet.')
  for (const { signInName, role, name } of members) desk.say(`${signInName}\t${role}\t${name}`)
  return 0
}

function hand(desk: Desk, when: string, path: string): ExitCode {
  desk.say(`${when}; it works once:`)
  desk.say(`${desk.address}${path}`)
  return 0
}

function refuse(desk: Desk, sentence: string): ExitCode {
  desk.complain(sentence)
  return 1
}

function memberOf(db: Db, signInName = '') {
  const member = findForSignIn(db, signInName.normalize('NFC').toLowerCase())
  if (!member) throw new UsageRefusal(`Nobody signs in as "${signInName}".`)
  return member
}

function readRole(text: string | undefined) {
  const role = ROLE_KEYS.find((key) => key === text)
  if (!role) throw new UsageRefusal(`A role is ${ROLE_KEYS.join(', ')}.`)
  return role
}
