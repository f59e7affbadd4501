import { createHash, randomBytes } from 'node:crypto'
import type { Request, RequestHandler, Response } from 'express'
import { currentMemberId } from './rights/viewer.ts'

/** Into each form, so that the same form sent twice is known: `{{> once}}`. */
export const newOnce = (): string => randomBytes(12).toString('base64url')

/** Where it led; undefined where it led nowhere: it came back with a problem, or broke. */
type Outcome = string | undefined

/** As many forms as are remembered; the oldest goes. */
const MOST = 5_000

/**
 * The same form sent twice makes one thing: by two clicks, by a line that broke before the answer came, by going back and
 * sending again. The second is led to where the first was, also while the first is still at work. With one word changed
 * it is another form. Kept in memory: after a new start of the program a second one counts as new.
 */
export function onceGuard(): RequestHandler {
  const outcomes = new Map<string, Promise<Outcome>>()
  return (req, res, next) => {
    const key = keyOf(req)
    if (key === undefined) return next()
    const earlier = outcomes.get(key)
    if (earlier === undefined) {
      remember(outcomes, key, res)
      return next()
    }
    void earlier.then((location) => {
      if (location !== undefined) return res.redirect(303, location)
      remember(outcomes, key, res)
      next()
    })
  }
}

/** Of one member, one address, one form and what was typed in it. */
function keyOf(req: Request): string | undefined {
  const body = req.body as Readonly<Record<string, unknown>> | undefined
  if (req.method !== 'POST' || typeof body?.once !== 'string' || !/^[\w-]{16}$/.test(body.once)) return undefined
  const said = JSON.stringify([currentMemberId(), req.path, body])
  return createHash('sha256').update(said).digest('base64url')
}

function remember(outcomes: Map<string, Promise<Outcome>>, key: string, res: Response): void {
  const outcome = outcomeOf(res)
  outcomes.set(key, outcome)
  const [oldest] = outcomes.keys()
  if (outcomes.size > MOST && oldest !== undefined) outcomes.delete(oldest)
  void outcome.then((location) => {
    if (location === undefined && outcomes.get(key) === outcome) outcomes.delete(key)
  })
}

/** Known when the answer is made: whoever clicks twice has given up the first connection, so it may never be sent. */
function outcomeOf(res: Response): Promise<Outcome> {
  return new Promise((resolve) => {
    const end = res.end.bind(res) as (...given: unknown[]) => Response
    const settle = (...given: unknown[]) => {
      const location = res.getHeader('Location')
      resolve(res.statusCode === 303 && typeof location === 'string' ? location : undefined)
      return end(...given)
    }
    res.end = settle as Response['end']
  })
}
