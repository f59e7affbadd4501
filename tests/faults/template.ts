import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { toBin } from '../../server/bin/queries.ts'
import { insertRun } from '../../server/backup/runs.ts'
import { openDb, type Db } from '../../server/db/open.ts'
import { hashPassword } from '../../server/member/password.ts'
import { insertMember } from '../../server/member/queries.ts'
import { insertInvite } from '../../server/member/link-queries.ts'
import { insertSession } from '../../server/member/session-queries.ts'
import { exportTo } from '../archive/archive-file.ts'
import { makeJpeg, sendPhoto } from '../photo/send.ts'
import { PASSWORD } from '../support/guild.ts'
import { makeClaim, makeOriginal, makeSource } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { migratedDb, startApp } from '../support/start.ts'

export const DRAFT = { title: 'Ladder', colours: 'm madder', weft: 'm', threading: 'S m m m m', turning: '1F' }

/** Folders that a program is started on, as copies: each is closed, and has long reached the disk. */
export interface Templates {
  /** A lone maker's, with one or two of everything, a backup, and a piece in the bin. */
  readonly lone: string
  /** The same with people in it. */
  readonly guild: string
  readonly empty: string
  /** Of the lone maker's; an archive of it. */
  readonly archive: Buffer
  readonly backup: string
  /** For the guild. */
  readonly cookie: string
  readonly invitation: string
  readonly jpeg: Buffer
}

let made: Promise<Templates> | undefined

/** Made once for all files of tests that a worker runs, so not in folders that go with the first of them. */
export const makeTemplates = (): Promise<Templates> => (made ??= build())

async function build(): Promise<Templates> {
  const own = mkdtempSync(join(tmpdir(), 'fellmark-faults-'))
  process.once('exit', () => rmSync(own, { recursive: true, force: true }))
  const [lone, guild, empty] = [join(own, 'lone'), join(own, 'guild'), join(own, 'empty')]
  for (const folder of [lone, guild, empty]) mkdirSync(folder)
  const jpeg = await makeJpeg({ width: 700, height: 500 })
  const backup = await fill(lone, jpeg, () => undefined)
  const secrets = { cookie: '', invitation: '' }
  await fill(guild, jpeg, async (db) => {
    const passwordHash = await hashPassword(PASSWORD)
    const id = insertMember(db, { name: 'Oda', signInName: 'oda', passwordHash }, 'keeper', new Date()) as number
    insertMember(db, { name: 'Brand', signInName: 'brand', passwordHash }, 'member', new Date())
    for (const table of ['source', 'original', 'draft', 'piece']) db.raw.exec(`update ${table} set owner_id = 1`)
    secrets.cookie = `fellmark=${insertSession(db, id, 'a browser', new Date())}`
    secrets.invitation = insertInvite(db, 'member', new Date())
  })
  open(empty).close()
  const db = openDb(join(lone, 'fellmark.db'))
  const archive = readFileSync(await exportTo(db, lone))
  db.close()
  return { lone, guild, empty, archive, backup, jpeg, ...secrets }
}

/** With a backup of just now, so that none is due while a test runs. */
function open(dataDir: string): Db {
  const db = migratedDb(join(dataDir, 'fellmark.db'))
  insertRun(db, { at: new Date().toISOString(), file: 'a-backup', bytes: 1, ok: 1, message: '' })
  return db
}

/** @returns the name of the backup in it */
async function fill(dataDir: string, jpeg: Buffer, more: (db: Db) => unknown): Promise<string> {
  const db = open(dataDir)
  const { post, app } = startApp(db, dataDir)
  makeSource(db)
  const original = makeOriginal(db)
  makeClaim(db, { originalId: original })
  makeSitting(db, makePiece(db, { originalId: original }))
  const answers = [await post('/drafts', DRAFT), await sendPhoto({ app }, '/originals/1/photos', jpeg)]
  const spare = makePiece(db, { name: 'In the bin' })
  toBin(db, 'piece', spare, new Date().toISOString())
  answers.push(await post('/keeper/backup'))
  for (const { status, text } of answers) if (status !== 303) throw new Error(`The template is not made: ${text}`)
  makeSource(db, { title: 'After the backup' })
  await more(db)
  db.close()
  return '2026-11-24T120000Z'
}
