import Database from 'better-sqlite3'
import {
  DummyDriver,
  Kysely,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
  type CompiledQuery,
  type Compilable,
  type InferResult,
} from 'kysely'
import { currentMemberId } from '../rights/viewer.ts'
import type { Tables } from './tables.ts'

/**
 * The notebook's database. Kysely only builds and types the SQL; it runs at once, without a promise, on the one
 * better-sqlite3 connection. So nothing can come between two statements of a `write`, and a lost await cannot exist.
 */
export interface Db {
  /** Builds queries. `await`ing or `.execute()`ing one does nothing useful: hand it to `all`, `first` or `run`. */
  readonly sql: Kysely<Tables>
  readonly raw: Database.Database
  all<Q extends Compilable<unknown>>(query: Q): InferResult<Q> extends Array<infer R> ? R[] : never
  first<Q extends Compilable<unknown>>(query: Q): InferResult<Q> extends Array<infer R> ? R | undefined : never
  /** Runs an insert, update or delete; `id` is the last inserted row's. */
  run(query: Compilable<unknown>): { changes: number; id: number }
  /** All or nothing, holding the write lock from the start; inside another `write` it joins that one. */
  write<T>(work: () => T): T
  close(): void
}

/** "FELM" in ASCII: tells our files from any other SQLite file. */
export const APPLICATION_ID = 0x46454c4d

/** To which the log beside the file goes back after it had to be larger. */
export const LOG_BYTES = 16 * 1024 ** 2

/** The file cannot be used as it is; the message is one sentence for the person who started the program. */
export class NotebookRefusal extends Error {}

/**
 * Opens a database file, `:memory:`, or a copy in memory of a file's content, with every pragma set on this opening:
 * better-sqlite3's build falls back to `synchronous=NORMAL` when a WAL file is reopened, and acknowledged work would not
 * survive a power cut.
 * @throws NotebookRefusal for a file that is not ours, before a byte of it is changed
 */
export function openDb(file: string | Buffer): Db {
  const raw = new Database(file, { timeout: 1000 })
  try {
    refuseForeign(raw, raw.name)
  } catch (error) {
    raw.close()
    throw error
  }
  raw.pragma('journal_mode = wal')
  raw.pragma('synchronous = full')
  raw.pragma('foreign_keys = on')
  raw.pragma('busy_timeout = 1000')
  raw.pragma('temp_store = memory')
  // Else the log keeps for ever the size that one long read or one large import gave it.
  raw.pragma(`journal_size_limit = ${LOG_BYTES}`)
  // Triggers write who changed what; they ask here.
  raw.function('current_member', () => currentMemberId())
  return toDb(raw)
}

/** Comes before `journal_mode`, which rewrites the header of whatever file it is given. */
function refuseForeign(raw: Database.Database, file: string): void {
  let tables: number
  try {
    tables = raw.prepare('select count(*) from sqlite_schema').pluck().get() as number
  } catch (error) {
    if (!(error instanceof Database.SqliteError) || error.code !== 'SQLITE_NOTADB') throw error
    throw new NotebookRefusal(`${file} is not a database, so it cannot be a Fellmark notebook; nothing was changed.`)
  }
  if (tables > 0 && raw.pragma('application_id', { simple: true }) !== APPLICATION_ID) {
    throw new NotebookRefusal(`${file} is a SQLite database, but not a Fellmark notebook; nothing was changed.`)
  }
}

function toDb(raw: Database.Database): Db {
  const sql = new Kysely<Tables>({
    dialect: {
      createAdapter: () => new SqliteAdapter(),
      createDriver: () => new DummyDriver(),
      createIntrospector: (db) => new SqliteIntrospector(db),
      createQueryCompiler: () => new SqliteQueryCompiler(),
    },
  })
  const prepared = new Map<string, Database.Statement>()
  const prepare = (query: CompiledQuery) => {
    let statement = prepared.get(query.sql)
    if (!statement) prepared.set(query.sql, (statement = raw.prepare(query.sql)))
    return statement
  }
  return {
    sql,
    raw,
    all: (query) => {
      const compiled = query.compile()
      return prepare(compiled).all(...compiled.parameters) as never
    },
    first: (query) => {
      const compiled = query.compile()
      return prepare(compiled).get(...compiled.parameters) as never
    },
    run: (query) => {
      const compiled = query.compile()
      const result = prepare(compiled).run(...compiled.parameters)
      return { changes: result.changes, id: Number(result.lastInsertRowid) }
    },
    write: (work) => (raw.inTransaction ? work() : raw.transaction(work).immediate()),
    close: () => void raw.close(),
  }
}
