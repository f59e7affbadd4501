import { expect, test } from 'vitest'
import { listBackups } from '../../server/backup/list.ts'
import { askBackup, makeNotebook } from '../backup/notebook.ts'
import { makePeople, WHO } from '../support/people.ts'
import { startApp } from '../support/start.ts'

/** A notebook on the disk with one backup in it, for each of `WHO` who asks. */
async function keptNotebook() {
  const notebook = makeNotebook()
  const people = makePeople(notebook.db)
  await askBackup(notebook)
  const [backup] = listBackups(notebook.dataDir)
  notebook.db.raw.exec("update original set notes = 'since the backup'")
  return { ...notebook, people, name: backup!.name }
}

const ALLOWED = ['keeper', 'lone']

test.each(WHO)('POST /keeper/backup, /restore/:name and /delete/:name, GET /keeper/check, asked by %s', async (who) => {
  const { db, dataDir, people, name } = await keptNotebook()
  const { get, post, broken } = startApp(db, dataDir, people[who])
  const since = () => db.raw.prepare("select count(*) from original where notes = 'since the backup'").pluck().get()
  const may = ALLOWED.includes(who)
  const asked = may ? 200 : who === 'anonymous' ? 303 : 403
  expect((await get('/keeper/check')).status).toBe(asked)
  const backup = await post('/keeper/backup')
  expect([backup.status, backup.headers.location]).toEqual(may ? [303, '/keeper?done=backed-up'] : [403, undefined])
  expect(listBackups(dataDir)).toHaveLength(may ? 2 : 1)
  expect((await get(`/keeper/restore/${name}`)).status).toBe(asked)
  const restore = await post(`/keeper/restore/${name}`)
  expect([restore.status, restore.headers.location]).toEqual(
    may ? [303, '/keeper?done=backup-restored'] : [403, undefined],
  )
  expect(since()).toBe(may ? 0 : 5)
  expect((await get(`/keeper/delete/${name}`)).status).toBe(asked)
  const deleted = await post(`/keeper/delete/${name}`)
  expect([deleted.status, deleted.headers.location]).toEqual(
    may ? [303, '/keeper?done=backup-deleted'] : [403, undefined],
  )
  expect(listBackups(dataDir).some((kept) => kept.name === name)).toBe(!may)
  expect(broken).toEqual([])
})
