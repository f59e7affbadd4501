import type { Request } from 'express'
import type { Db } from '../db/open.ts'
import { ANONYMOUS, LONE, type Viewer } from '../rights/viewer.ts'

/**
 * Who is asking. Without members, and on this machine alone, the one maker works without signing in; from the first
 * member on everybody signs in.
 */
export function viewerOf(db: Db, _req: Request, { isLoopback }: { readonly isLoopback: boolean }): Viewer {
  const member = db.first(db.sql.selectFrom('member').select('id').limit(1))
  return !member && isLoopback ? LONE : ANONYMOUS
}
