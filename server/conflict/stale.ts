import type { Db } from '../db/open.ts'
import { currentShell } from '../shell.ts'
import type { Edited } from './nouns.ts'

/** Somebody else saved while this form was on its way; nothing of it was written. */
export class StaleSave extends Error {}

/**
 * For the queries that write a form, inside their transaction: the row is still the one that the form was opened on.
 * The guard has looked before, but between it and the write the router may let other requests in.
 * @throws StaleSave when it is not
 */
export function requireUnchanged(db: Db, noun: Edited, id: number): void {
  const { expected } = currentShell()
  if (expected === undefined) return
  const row = db.first(db.sql.selectFrom(noun).select('version').where('id', '=', id))
  if (row && row.version !== expected) throw new StaleSave(`The ${noun} was saved by somebody else meanwhile`)
}
