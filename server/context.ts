import type { ReferenceKeeper } from './citation/keep.ts'
import type { Db } from './db/open.ts'
import type { Page } from './pages.ts'

/** What the routes are given; tests give their own clock and zone. */
export interface Context {
  readonly db: Db
  readonly page: Page
  readonly now: () => Date
  /** IANA zone of the maker's clock, for times typed without one. */
  readonly zone: string
  /** Folder of the notebook: the database, `photos/`, `staging/` for what is half written, `backups/`. */
  readonly dataDir: string
  /** The throw-away demo: no backups by itself, and nothing of it is kept. */
  readonly isDemo?: boolean
  /** Prints references as sources are saved; without it pages show them in plain words. */
  readonly references?: ReferenceKeeper
}

/** The day on the maker's clock, `2026-03-14`. */
export function today({ now, zone }: Pick<Context, 'now' | 'zone'>): string {
  return new Intl.DateTimeFormat('sv-SE', { timeZone: zone }).format(now())
}
