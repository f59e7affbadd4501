import type { Request, RequestHandler } from 'express'
import { rateLimit, type Store } from 'express-rate-limit'
import { HttpError } from './errors.ts'

/** Requests for pages from one address (of IPv6, one /56) within ten seconds. */
export const BURST = { requests: 300, withinMs: 10_000 } as const
/** Archives of pieces, which read every photograph from the disk, within ten minutes. */
export const EXPORTS = { requests: 20, withinMs: 600_000 } as const

interface Limit {
  readonly requests: number
  readonly withinMs: number
}

/**
 * Holds up who asks too fast, and nobody else: 429 with `Retry-After`.
 * @param skip whom nobody could be held up by: the lone maker on their own machine
 */
export function burstLimit({ requests, withinMs }: Limit, skip: (req: Request) => boolean): RequestHandler {
  return rateLimit({
    windowMs: withinMs,
    limit: requests,
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    skip,
    // Anybody can send this header; without a proxy of ours it means nothing, and is no fault to speak of.
    validate: { xForwardedForHeader: false },
    store: steadyStore(withinMs),
    handler: (_req, res, next) => {
      const seconds = Number(res.getHeader('Retry-After') ?? 1)
      next(new HttpError(429, `That was too much in too short a time. Please wait ${sayWait(seconds)}.`))
    },
  })
}

const sayWait = (seconds: number) =>
  seconds > 90 ? `${Math.ceil(seconds / 60)} minutes` : seconds > 1 ? `${seconds} seconds` : 'a second'

/**
 * Counts in memory by a clock that nobody sets. The library's own store goes by the clock on the wall: put back by an
 * hour, it would hold everybody up for one.
 * @param elapsedMs since whenever, never less than before
 */
export function steadyStore(withinMs: number, elapsedMs: () => number = () => performance.now()): Store {
  let counts = new Map<string, number>()
  let endsAt = elapsedMs() + withinMs
  const turn = () => {
    if (elapsedMs() < endsAt) return
    counts = new Map()
    endsAt = elapsedMs() + withinMs
  }
  return {
    localKeys: true,
    increment: (key) => {
      turn()
      const totalHits = (counts.get(key) ?? 0) + 1
      counts.set(key, totalHits)
      return { totalHits, resetTime: new Date(Date.now() + endsAt - elapsedMs()) }
    },
    decrement: (key) => void counts.set(key, Math.max(0, (counts.get(key) ?? 0) - 1)),
    resetKey: (key) => void counts.delete(key),
  }
}
