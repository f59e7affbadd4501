import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { backupsFolder } from '../../server/backup/place.ts'
import { runBackup } from '../../server/backup/run.ts'
import type { TakenBackup } from '../../server/backup/take.ts'
import type { Db } from '../../server/db/open.ts'
import { listNamesOf } from '../../server/photo/place.ts'
import { demoDb } from '../support/demo.ts'
import { makeDataDir, NOW } from '../support/start.ts'

export interface Notebook {
  readonly db: Db
  readonly dataDir: string
  readonly now: () => Date
}

/** A notebook on the disk with the demo collection in it. */
export function makeNotebook(dataDir = makeDataDir()): Notebook {
  return { db: demoDb(NOW, join(dataDir, 'fellmark.db')), dataDir, now: () => NOW }
}

const SHAPE = { width: 300, height: 200 } as const
export const PHOTO = '0123456789abcdef0123456789abcdef'

/** A photograph of the first original, as the program lays it down: its row, and its files with text instead of a picture. */
export function addPhoto({ db, dataDir }: Notebook, file = PHOTO): string[] {
  const at = NOW.toISOString()
  const names = writePhotoFiles(dataDir, file)
  const sizes = names.slice(0, -1).reduce((sum, name) => sum + statSync(join(dataDir, name)).size, 0)
  const original = readFileSync(join(dataDir, names.at(-1)!))
  const sha256 = createHash('sha256').update(original).digest('hex')
  db.run(
    db.sql.insertInto('photo').values({
      ...{ original_id: 1, piece_id: null, part: '', caption: 'The selvedge', credit: '', licence: '', taken_on: null },
      ...{ file, sha256, ...SHAPE, bytes: sizes, original_bytes: original.length },
      ...{ created_at: at, updated_at: at },
    }),
  )
  return names
}

export function writePhotoFiles(dataDir: string, file: string): string[] {
  const names = listNamesOf({ file, ...SHAPE }).map((name) => `photos/${name}`)
  for (const name of names) {
    mkdirSync(join(dataDir, dirname(name)), { recursive: true })
    writeFileSync(join(dataDir, name), `content of ${name}`)
  }
  return names
}

export const askBackup = (notebook: Notebook, to?: string): Promise<TakenBackup> =>
  runBackup({ ...notebook, reason: 'asked', to })

export const listKept = (dataDir: string): string[] =>
  existsSync(backupsFolder(dataDir)) ? readdirSync(backupsFolder(dataDir)).sort() : []

/** Everything in the notebook that somebody wrote, in one comparable text. */
export function dump({ raw }: Db): string {
  const tables = ['original', 'piece', 'draft', 'draft_revision', 'claim', 'sitting', 'source', 'piece_yarn', 'photo']
  return JSON.stringify(tables.map((table) => raw.prepare(`select * from ${table} order by id`).all()))
}
