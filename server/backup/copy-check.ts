import Database from 'better-sqlite3'
import { APPLICATION_ID } from '../db/open.ts'

export interface CopyFacts {
  readonly step: number
  /** Rows of each table. */
  readonly counts: Readonly<Record<string, number>>
}

/** The copy is not whole; the message is one sentence. */
export class CopyRefusal extends Error {}

/**
 * Opens a copy once by a connection of its own and looks at all of it.
 * @param path of a database that nothing else has open, without a log beside it; no byte of it is changed
 * @throws CopyRefusal
 */
export function checkCopy(path: string): CopyFacts {
  let raw: Database.Database | undefined
  try {
    raw = new Database(path, { readonly: true, fileMustExist: true })
    if (raw.pragma('application_id', { simple: true }) !== APPLICATION_ID)
      throw new CopyRefusal('Its database is not one of Fellmark.')
    const damage = raw.pragma('integrity_check(1)', { simple: true })
    if (damage !== 'ok') throw new CopyRefusal('Its database is damaged.')
    const orphans = (raw.pragma('foreign_key_check') as unknown[]).length
    if (orphans > 0) throw new CopyRefusal(`In its database ${orphans} rows have lost what they belong to.`)
    return { step: raw.pragma('user_version', { simple: true }) as number, counts: countRows(raw) }
  } catch (error) {
    if (error instanceof Database.SqliteError) throw new CopyRefusal('Its database is damaged or cannot be read.')
    throw error
  } finally {
    raw?.close()
  }
}

/** Rows of each table, without those in which SQLite keeps its own (the word index, the counters). */
export function countRows(raw: Database.Database): Record<string, number> {
  const names = raw
    .prepare<[], string>(
      `select name from sqlite_schema where type = 'table' and name not like 'sqlite\\_%' escape '\\'
        and name not like 'search\\_%' escape '\\' order by name`,
    )
    .pluck()
    .all()
  return Object.fromEntries(
    names.map((name) => [name, raw.prepare<[], number>(`select count(*) from "${name}"`).pluck().get() ?? 0]),
  )
}
