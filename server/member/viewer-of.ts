import type { Request } from 'express'
import type { Db } from '../db/open.ts'
import { ANONYMOUS, LONE, type Viewer } from '../rights/viewer.ts'
import { cookiesFor } from './cookie.ts'
import { hasMembers } from './queries.ts'
import { findSessionViewer } from './session-queries.ts'

interface Surroundings {
  readonly isLoopback: boolean
  readonly baseUrl?: string | undefined
  readonly now: () => Date
}

/**
 * Who is asking. Without members, and on this machine alone, the one maker works without signing in; from the first
 * member on everybody signs in.
 */
export function viewerOf(db: Db, req: Request, { isLoopback, baseUrl, now }: Surroundings): Viewer {
  if (!hasMembers(db)) return isLoopback ? LONE : ANONYMOUS
  const token = cookiesFor(baseUrl).session(req)
  return (token === undefined ? undefined : findSessionViewer(db, token, now())) ?? ANONYMOUS
}
