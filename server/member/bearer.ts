import type { RequestHandler } from 'express'
import type { Db } from '../db/open.ts'
import { HttpError } from '../errors.ts'
import { ANONYMOUS, asViewer, LONE, type Viewer } from '../rights/viewer.ts'
import { findApiTokenViewer, type Scope } from './api-token-queries.ts'
import { hasMembers } from './queries.ts'

/** Who calls the API and what they may do; set by `bearer` on every call. */
export interface Caller {
  readonly viewer: Viewer
  readonly scope: Scope | 'none'
}

interface Surroundings {
  readonly db: Db
  readonly now: () => Date
  readonly isLoopback: boolean
}

/**
 * Tells who calls from `Authorization: Bearer …` alone; a cookie means nothing here. A token that does not hold is
 * refused even where none is needed: the caller should learn of it at once.
 */
export function bearer({ db, now, isLoopback }: Surroundings): RequestHandler {
  return (req, res, next) => {
    const { authorization } = req.headers
    const caller = authorization === undefined ? withoutToken(db, isLoopback) : findCaller(db, authorization, now())
    if (!caller) {
      res.set('WWW-Authenticate', 'Bearer error="invalid_token"')
      return next(new HttpError(401, 'This token was never given, was ended, or is too old.'))
    }
    res.locals.caller = caller
    asViewer(caller.viewer, next)
  }
}

function withoutToken(db: Db, isLoopback: boolean): Caller {
  return isLoopback && !hasMembers(db) ? { viewer: LONE, scope: 'write' } : { viewer: ANONYMOUS, scope: 'none' }
}

function findCaller(db: Db, authorization: string, now: Date): Caller | undefined {
  const token = /^Bearer +([\w-]{43})$/i.exec(authorization)?.[1]
  return token === undefined ? undefined : findApiTokenViewer(db, token, now)
}

/** Put before every call that reads or writes what is kept. */
export function needsScope(scope: Scope): RequestHandler {
  return (_req, res, next) => {
    const caller = res.locals.caller as Caller | undefined
    if (!caller || caller.scope === 'none') {
      res.set('WWW-Authenticate', 'Bearer')
      return next(new HttpError(401, 'This call needs a token: Authorization: Bearer TOKEN.'))
    }
    if (scope === 'write' && caller.scope !== 'write') {
      return next(new HttpError(403, 'This token may read, but not write.'))
    }
    next()
  }
}
