import type { CookieOptions, Request, Response } from 'express'
import { ABSOLUTE_DAYS } from './session-queries.ts'

export interface Cookies {
  session(req: Request): string | undefined
  device(req: Request): string | undefined
  setSession(res: Response, token: string): void
  setDevice(res: Response, token: string): void
  clearSession(res: Response): void
}

const DAY_MS = 24 * 60 * 60 * 1000
/** Browsers keep no cookie longer. */
const DEVICE_MS = 400 * DAY_MS

/**
 * The two cookies. Browsers drop `Secure` on plain http in a local network, so it is there only with https; and
 * `__Host-` asks for the path "/", so below a path it is `__Secure-`.
 */
export function cookiesFor(baseUrl: string | undefined): Cookies {
  const url = baseUrl === undefined ? undefined : new URL(baseUrl)
  const secure = url?.protocol === 'https:'
  const path = url?.pathname || '/'
  const prefix = !secure ? '' : path === '/' ? '__Host-' : '__Secure-'
  const name = `${prefix}fellmark`
  const deviceName = `${prefix}fellmark-device`
  const options: CookieOptions = { path, secure, httpOnly: true, sameSite: 'lax' }
  return {
    session: (req) => readCookie(req, name),
    device: (req) => readCookie(req, deviceName),
    setSession: (res, token) => void res.cookie(name, token, { ...options, maxAge: ABSOLUTE_DAYS * DAY_MS }),
    setDevice: (res, token) => void res.cookie(deviceName, token, { ...options, maxAge: DEVICE_MS }),
    clearSession: (res) => void res.clearCookie(name, options),
  }
}

/** Ours are base64url: what does not look like one of ours is not looked up. */
function readCookie(req: Request, name: string): string | undefined {
  for (const pair of (req.headers.cookie ?? '').split(';')) {
    const at = pair.indexOf('=')
    if (at > 0 && pair.slice(0, at).trim() === name) {
      const value = pair.slice(at + 1).trim()
      if (/^[\w-]{43}$/.test(value)) return value
    }
  }
  return undefined
}
