import type { Db } from '../db/open.ts'
import { insertSetupLink, LINK_HOURS } from './link-queries.ts'
import { hasMembers } from './queries.ts'

/** What the start prints where everybody signs in and nobody can yet; a link of an earlier start ends. */
export function listSetupLines(db: Db, address: string, now: Date): string[] {
  if (hasMembers(db)) return []
  const within = LINK_HOURS.setup === 1 ? 'an hour' : `${LINK_HOURS.setup} hours`
  return [
    `Nobody has an account here yet. Open this link within ${within} to make the first one (the next start prints a new link):`,
    `${address}/setup/${insertSetupLink(db, now)}`,
  ]
}
