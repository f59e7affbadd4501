import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { openNotebook } from '../../server/backup/open-notebook.ts'
import { listBackups } from '../../server/backup/list.ts'
import { verifyBackup } from '../../server/backup/verify.ts'
import { checkNotebook } from '../../server/check/check.ts'
import { countRows } from '../../server/backup/copy-check.ts'
import type { Db } from '../../server/db/open.ts'

/** Kept by the program for itself, each in a write of its own. */
const BESIDE = new Set(['sign_in_limit', 'known_device', 'session', 'backup_run'])

export interface State {
  /** Every row that somebody wrote, in one comparable text: instants and random names are the same sign everywhere. */
  readonly rows: string
  /** How many are signed in; for an answer that said so. */
  readonly sessions: number
  /** What is not as it should be, in sentences. */
  readonly faults: readonly string[]
}

/**
 * Opens a folder as the program opens it at its start, looks over all of it, and closes it again.
 * @throws what opening throws
 */
export async function readState(folder: string): Promise<State> {
  const db = openNotebook(folder, '2026-11-24')
  try {
    const findings = await checkNotebook(db, folder, new Date())
    const faults = [...findings.map(({ what }) => what), ...(await listBadBackups(folder))]
    const sessions = db.raw.prepare<[], number>('select count(*) from session').pluck().get() ?? 0
    return { rows: dumpRows(db), sessions, faults }
  } finally {
    db.close()
  }
}

/** What has a backup's name is a whole backup; and after a start nothing half made lies about. */
async function listBadBackups(folder: string): Promise<string[]> {
  const parent = join(folder, 'backups')
  if (!existsSync(parent)) return []
  const good = new Set(listBackups(folder).map(({ name }) => name))
  const others = readdirSync(parent).filter((name) => !good.has(name) && !/^before-step-/.test(name))
  const verdicts = await Promise.all([...good].map((name) => verifyBackup(join(parent, name))))
  const problems = verdicts.flatMap((verdict) => (verdict.ok ? [] : verdict.problems))
  return [...others.map((name) => `${name} lies among the backups.`), ...problems]
}

export function dumpRows({ raw }: Pick<Db, 'raw'>): string {
  const tables = Object.keys(countRows(raw)).filter((table) => !BESIDE.has(table))
  const text = tables.map((table) => {
    const rows = raw
      .prepare(`select * from "${table}"`)
      .all()
      .map((row) => JSON.stringify(row))
    return `${table}: ${rows.map(mask).sort().join('\n  ')}`
  })
  return text.join('\n')
}

/** What is another with every run. */
const mask = (text: string) =>
  text
    .replace(/\d{4}-\d\d-\d\dT[\d:.]+Z/g, '(instant)')
    .replace(/\b[0-9a-f]{32,64}\b/g, '(random)')
    .replace(/\$argon2id[^"]+/g, '(hash)')

/** Files of photographs, what lies half written, and what lies among the backups, without what they are called. */
export function countFiles(folder: string): { photos: number; staged: number; backups: number } {
  const count = (name: string) =>
    existsSync(join(folder, name))
      ? readdirSync(join(folder, name), { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile())
          .length
      : 0
  const backups = existsSync(join(folder, 'backups')) ? readdirSync(join(folder, 'backups')).length : 0
  return { photos: count('photos'), staged: count('staging'), backups }
}
