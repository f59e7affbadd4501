import { createHash } from 'node:crypto'
import { RateLimiterSQLite } from 'rate-limiter-flexible'
import type { Db } from '../db/open.ts'

const MINUTE = 60
const HOUR = 60 * MINUTE

/** Wrong passwords of one account from one network (or one known device) before waits begin. */
export const FREE_TRIES = 10
/** Tries at one account from all unknown devices in an hour; beyond, each network has one try before it waits. */
export const ACCOUNT_TRIES = 100
/** Tries at any account from one network in a quarter of an hour, known devices not counted. */
export const NETWORK_TRIES = 60

export type Turn = { ok: true; key: string } | { ok: false; waitSeconds: number }

/**
 * Holds up who guesses passwords, and nobody else. Counts lie in the database, so they outlive a restart. An account is
 * never locked: a device in which its owner signed in before has a count of its own, and so has every network.
 */
export function signInLimits(db: Db) {
  const limiter = (keyPrefix: string, points: number, duration: number) =>
    new RateLimiterSQLite({
      ...{ storeClient: db.raw, storeType: 'better-sqlite3', tableName: 'sign_in_limit', tableCreated: true },
      ...{ keyPrefix, points, duration },
    })
  const tries = limiter('try', FREE_TRIES, 24 * HOUR)
  const waits = limiter('wait', 1, HOUR)
  const accounts = limiter('account', ACCOUNT_TRIES, HOUR)
  const networks = limiter('network', NETWORK_TRIES, 15 * MINUTE)

  /**
   * These counts have to outlive a restart, so they go by the clock on the wall. One that ends later than it could from
   * now was begun before that clock was put back; it would hold somebody up for as long as it was put back by.
   */
  const dropImpossible = () => {
    for (const { keyPrefix, duration } of [tries, waits, accounts, networks]) {
      const latest = Date.now() + duration * 1000
      db.run(db.sql.deleteFrom('sign_in_limit').where('key', 'like', `${keyPrefix}:%`).where('expire', '>', latest))
    }
  }

  /** Counts the try before the password is looked at: a hundred at once are a hundred. */
  const take = async (key: string, allowance: number): Promise<Turn> => {
    dropImpossible()
    const waiting = await waits.get(key)
    if (waiting && waiting.msBeforeNext > 0) return { ok: false, waitSeconds: toSeconds(waiting.msBeforeNext) }
    const { consumedPoints } = await tries.penalty(key)
    if (consumedPoints >= allowance) await waits.block(key, waitAfter(consumedPoints - allowance))
    return { ok: true, key }
  }

  return {
    async begin(who: { signInName: string; network: string; device: string | undefined }): Promise<Turn> {
      dropImpossible()
      if (who.device) return take(`device ${who.device}`, FREE_TRIES)
      const key = keyOf(who.signInName, who.network)
      const network = await networks.penalty(keyOf(who.network))
      if (network.consumedPoints > NETWORK_TRIES) return { ok: false, waitSeconds: toSeconds(network.msBeforeNext) }
      const account = await accounts.penalty(keyOf(who.signInName))
      return take(key, account.consumedPoints > ACCOUNT_TRIES ? 1 : FREE_TRIES)
    },
    /** Of somebody who has signed in and is asked for their present password. */
    beginOwn: (memberId: number): Promise<Turn> => take(`member ${memberId}`, FREE_TRIES),
    /** After the right password: what this one has tried is forgotten. */
    async succeed(key: string): Promise<void> {
      await tries.delete(key)
      await waits.delete(key)
      db.run(db.sql.deleteFrom('sign_in_limit').where('expire', '<', Date.now()))
    },
  }
}
export type SignInLimits = ReturnType<typeof signInLimits>

/** 1, 2, 4 … minutes, an hour at most. */
const waitAfter = (beyond: number) => Math.min(HOUR, MINUTE * 2 ** Math.min(beyond, 10))

const toSeconds = (ms: number) => Math.max(1, Math.ceil(ms / 1000))

/** What is typed as a name can be a password in the wrong field: it is not kept as it is. */
const keyOf = (...parts: string[]) => createHash('sha256').update(parts.join('\n')).digest('hex').slice(0, 32)
