import type { NextFunction, Request, RequestHandler, Response } from 'express'
import { HttpError } from './errors.ts'

const CSP = [
  ...["default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data:", "font-src 'self'"],
  ...["connect-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'", "object-src 'none'"],
].join('; ')

/**
 * Headers of every answer. No `upgrade-insecure-requests` and no HSTS: both break plain http in a local network.
 * `Referrer-Policy: no-referrer` would make browsers send `Origin: null` with our own forms.
 */
export const securityHeaders: RequestHandler = (_req, res, next) => {
  res.set({
    'Content-Security-Policy': CSP,
    'Referrer-Policy': 'same-origin',
    'X-Content-Type-Options': 'nosniff',
    'X-Frame-Options': 'DENY',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Permissions-Policy': 'camera=(), geolocation=(), microphone=()',
  })
  next()
}

/**
 * Only our own names are answered. Without it a foreign page could point its own name at 127.0.0.1 and read the
 * notebook of somebody who works without signing in.
 */
export function knownHost({
  baseUrl,
  isLoopback,
}: {
  baseUrl?: string | undefined
  isLoopback: boolean
}): RequestHandler {
  const isNear = !isLoopback && baseUrl === undefined
  const publicHost = baseUrl === undefined ? undefined : new URL(baseUrl).host
  return (req, _res, next) => {
    const hosts = req.rawHeaders.filter((_, index, all) => index % 2 === 1 && all[index - 1]?.toLowerCase() === 'host')
    const [host = ''] = hosts
    const isOurs = host === publicHost || LOOPBACK.test(host) || (isNear && LOCAL.test(host))
    if (hosts.length === 1 && isOurs) return next()
    next(new HttpError(421, 'This address is not one of this notebook.'))
  }
}
/**
 * Where other machines may come and no public address is set: an address in figures, a bare machine name, and the
 * endings that only mean something in a local network. Nobody on the internet can own one of these.
 */
const LOCAL =
  /^(\d{1,3}(\.\d{1,3}){3}|\[[0-9a-f:.]+\]|[a-z0-9-]+|([a-z0-9-]+\.)+(local|lan|home|internal|home\.arpa|test))(:\d{1,5})?$/i
const LOOPBACK = /^(localhost|[a-z0-9-]+\.localhost|127(\.\d{1,3}){3}|\[::1\])(:\d{1,5})?$/i

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS'])

/** The origins that forms may come from: the host that was asked, and the public address. */
export function isOwnOrigin(req: Request, baseUrl: string | undefined): boolean {
  const { origin, host } = req.headers
  if (!origin || origin === 'null' || !host) return false
  return origin === `http://${host}` || (baseUrl !== undefined && origin === new URL(baseUrl).origin)
}

/** Every unsafe method of the pages must say that it comes from our own page; missing and null are refused too. */
export function ownOrigin(baseUrl: string | undefined): RequestHandler {
  return (req, _res, next) => {
    if (SAFE.has(req.method) || isOwnOrigin(req, baseUrl)) return next()
    next(new HttpError(403, 'This form was not sent from a page of this notebook, so nothing was changed.'))
  }
}

/** TRACE and other rare methods are refused by name. */
export function knownMethod(req: Request, _res: Response, next: NextFunction): void {
  if (SAFE.has(req.method) || req.method === 'POST') return next()
  next(new HttpError(405, 'Pages are read and forms are sent here; nothing else.'))
}

/**
 * A body has to be here within this time: the server itself waits as long as an upload over a slow line may take, and
 * nobody but a sender with the right to one may hold a connection for so long.
 */
export function timelyBody(withinMs: number): RequestHandler {
  return (req, res, next) => {
    const timer = setTimeout(() => {
      if (!req.complete) req.destroy()
    }, withinMs)
    timer.unref()
    res.locals.bodyTimer = timer
    req.once('close', () => clearTimeout(timer))
    next()
  }
}

/** Lets the body of this request take as long as the server waits. */
export const allowSlowBody = (res: Response): void => clearTimeout(res.locals.bodyTimer as NodeJS.Timeout | undefined)
