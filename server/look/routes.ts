import { Router } from 'express'
import { z } from 'zod'
import { HttpError } from '../errors.ts'
import { choice, parseForm } from '../form.ts'
import { seeOther } from '../notice.ts'
import { LOOK_COOKIE, LOOKS } from './look.ts'

const YEAR_MS = 365 * 24 * 60 * 60 * 1000
const schema = z.object({ look: choice(LOOKS, 'Please choose light, dark, or as the device says.') })

/** How the pages look in this browser; a cookie remembers it. */
export function lookRoutes({ baseUrl }: { readonly baseUrl?: string | undefined }): Router {
  const router = Router()
  router.post('/look', (req, res) => {
    const form = parseForm(req.body, schema)
    if (!form.ok) throw new HttpError(422, form.problems.look ?? '')
    const path = `${String(res.locals.base ?? '')}/`
    const secure = baseUrl?.startsWith('https:') ?? false
    const options = { path, secure, httpOnly: true, sameSite: 'lax' } as const
    if (form.value.look === 'device') res.clearCookie(LOOK_COOKIE, options)
    else res.cookie(LOOK_COOKIE, form.value.look, { ...options, maxAge: YEAR_MS })
    seeOther(res, '/colophon#look')
  })
  return router
}
