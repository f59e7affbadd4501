import type { NextFunction, Request, RequestHandler, Response } from 'express'
import { HttpError } from './errors.ts'
import type { Log } from './log.ts'
import { networkOf } from './member/network.ts'

/** What pages may fetch and run. */
export const CSP = [
  ...["default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data:", "font-src 'self'"],
  ...["connect-src 'self'", "form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'", "object-src 'none'"],
].join('; ')

/** A year. Not for the subdomains: what else stands below a guild's name is not this program's to say. */
const HSTS = { 'Strict-Transport-Security': 'max-age=31536000' }

export const isHttps = (baseUrl: string | undefined): boolean => baseUrl?.startsWith('https:') ?? false

/**
 * Whether browsers take the page for one that nobody listens to: https, and this machine by any protocol. On plain http
 * in a network they leave some headers out of account, and say so in the console of every page.
 */
export const isSecureContext = (req: Request, baseUrl: string | undefined): boolean =>
  isHttps(baseUrl) || LOOPBACK.test(req.headers.host ?? '')

/**
 * Headers of every answer. No `upgrade-insecure-requests`, and HSTS only where the public address is https: both break
 * plain http in a local network. `Referrer-Policy: no-referrer` would make browsers send `Origin: null` with our own forms.
 */
export function securityHeaders(baseUrl: string | undefined): RequestHandler {
  const headers = {
    'Content-Security-Policy': CSP,
    'Referrer-Policy': 'same-origin',
    'X-Content-Type-Options': 'nosniff',
    'X-Frame-Options': 'DENY',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Permissions-Policy': 'camera=(), geolocation=(), microphone=()',
    ...(isHttps(baseUrl) && HSTS),
  }
  return (req, res, next) => {
    res.set(headers)
    if (isSecureContext(req, baseUrl)) res.set('Cross-Origin-Opener-Policy', 'same-origin')
    next()
  }
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
    if (hosts.length > 1) return next(new HttpError(400, 'That request names two addresses at once.'))
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
export function ownOrigin(baseUrl: string | undefined, log: Log): RequestHandler {
  return (req, _res, next) => {
    if (SAFE.has(req.method) || isOwnOrigin(req, baseUrl)) return next()
    logForeign(req, log)
    next(new HttpError(403, 'This form was not sent from a page of this notebook, so nothing was changed.'))
  }
}

/** Of the address its first word alone: what follows can be the token of a link. */
export function logForeign(req: Request, log: Log): void {
  const [, place = ''] = req.path.split('/')
  const origin = req.headers.origin?.slice(0, 200) ?? null
  log({
    event: 'foreign-origin',
    method: req.method,
    place: place.slice(0, 40),
    origin,
    network: networkOf(req.ip ?? ''),
  })
}

/** TRACE sends back what it was sent, cookies too; nothing here answers it. */
export function noTrace(req: Request, res: Response, next: NextFunction): void {
  if (req.method !== 'TRACE' && req.method !== 'TRACK') return next()
  res.set('Allow', 'GET, HEAD, POST')
  next(new HttpError(405, 'Pages are read and forms are sent here; nothing else.'))
}

/** Rare methods are refused by name. */
export function knownMethod(req: Request, res: Response, next: NextFunction): void {
  if (SAFE.has(req.method) || req.method === 'POST') return next()
  res.set('Allow', 'GET, HEAD, POST')
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
