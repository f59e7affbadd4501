import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { migrations } from '../../migrations/index.ts'
import { today } from '../context.ts'
import { migrate } from '../db/migrate.ts'
import { NotebookRefusal, openDb, type Db } from '../db/open.ts'

/** 0: done. 1: not done, for a reason that was said. 2: it cannot be tried (usage, setting, file). */
export type ExitCode = 0 | 1 | 2

/** What a command is given; tests give their own folder, clock and ears. */
export interface Desk {
  readonly dataDir: string
  /** Where the notebook is answered, without a trailing slash: for links that a command prints. */
  readonly address: string
  readonly now: () => Date
  readonly zone: string
  readonly say: (line: string) => void
  readonly complain: (line: string) => void
}

export interface Command {
  /** What comes after the name, `add NAME | list`. */
  readonly usage: string
  readonly about: string
  readonly run: (args: readonly string[], desk: Desk) => ExitCode | Promise<ExitCode>
}

/** What was typed after the name does not fit its usage. */
export class UsageRefusal extends Error {}

/** Opens the notebook that is there, brings it up to date, and closes it after `work`. */
export async function withNotebook<T>(desk: Desk, work: (db: Db) => T | Promise<T>): Promise<T> {
  const file = join(desk.dataDir, 'fellmark.db')
  if (!existsSync(file))
    throw new NotebookRefusal(`There is no notebook in ${desk.dataDir}; set DATA_DIR to its folder.`)
  const db = openDb(file)
  try {
    migrate(db.raw, { migrations, copyTo: join(desk.dataDir, 'backups'), today: today(desk) })
    return await work(db)
  } finally {
    db.close()
  }
}
