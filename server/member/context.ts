import type { Context } from '../context.ts'
import type { Log } from '../log.ts'

/** What the pages about people are given beside what all are. */
export interface MemberContext extends Context {
  readonly isLoopback: boolean
  readonly baseUrl?: string | undefined
  readonly log: Log
}
