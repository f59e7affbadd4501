import { readFileSync, rmSync, truncateSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { checkNotebook } from '../../server/check/check.ts'
import { listPhotoFiles } from '../../server/photo/check.ts'
import { addPhoto, askBackup, makeNotebook, writePhotoFiles, type Notebook } from '../backup/notebook.ts'
import { runAdmin, runBuiltAdmin } from '../support/server.ts'
import { NOW } from '../support/start.ts'

/** Past the hour in which a file may belong to an upload. */
const LATER = new Date(Date.now() + 2 * 3_600_000)
const check = async ({ db, dataDir }: Notebook) => (await checkNotebook(db, dataDir, LATER)).map(({ what }) => what)

/** The program refuses it; a hand with another tool does not. */
const loseRevision = ({ raw }: Notebook['db']) =>
  raw.exec('drop trigger draft_revision_stays; update draft_revision set number = 7 where id = 1')

function turnByte(file: string): void {
  const content = readFileSync(file)
  content[0] = (content[0] ?? 0) ^ 1
  writeFileSync(file, content)
}

const FAULTS: readonly [string, (notebook: Notebook) => void, RegExp][] = [
  [
    'a row without what it belongs to',
    ({ db }) => {
      db.raw.pragma('foreign_keys = off')
      db.raw.exec('update sitting set piece_id = 99 where id = 1')
    },
    /^1 row \(sitting\) belong/,
  ],
  [
    'a sitting with more break than time',
    ({ db }) => {
      db.raw.pragma('ignore_check_constraints = on')
      db.raw.exec('update sitting set break_minutes = minutes + 5 where id = 1')
      db.raw.pragma('ignore_check_constraints = off')
    },
    /more break than time|database is damaged/,
  ],
  [
    'a sitting whose minutes are not its hours',
    ({ db }) => db.raw.exec('update sitting set minutes = minutes + 60 where started_at is not null and id < 20'),
    /whose minutes are not those from start to end/,
  ],
  ['a revision that is lost', ({ db }) => loseRevision(db), /^1 draft whose revisions are not 1, 2, 3/],
  [
    'an index of words that misses a thing',
    ({ db }) => db.raw.exec("delete from search where kind = 'draft' and item_id = 1"),
    /misses 1 thing and lists 0 things/,
  ],
  [
    'a photograph without its files',
    (notebook) => {
      const [first] = addPhoto(notebook)
      rmSync(join(notebook.dataDir, first!))
    },
    /^1 photograph without its files: The selvedge/,
  ],
  [
    'a photograph as it was sent of which a byte has turned',
    (notebook) => turnByte(join(notebook.dataDir, addPhoto(notebook).at(-1)!)),
    /^1 photograph whose files are not what they were: photos\/01\/23\/\w+-original\.$/,
  ],
  [
    'a web size that was cut off',
    (notebook) => truncateSync(join(notebook.dataDir, addPhoto(notebook)[0]!), 3),
    /^1 photograph whose files are not what they were: .*\.jpg\.$/,
  ],
  [
    'a file that nothing shows',
    ({ dataDir }) => void writePhotoFiles(dataDir, 'ab'.repeat(16)),
    /^2 files among the photographs that nothing in the notebook shows/,
  ],
  [
    'a thing without an owner',
    ({ db }) =>
      db.raw.exec(
        "insert into member (name, sign_in_name, password_hash, role, created_at) values ('A', 'a', '', 'keeper', '')",
      ),
    /things without an owner/,
  ],
]

describe('checkNotebook(db, dataDir, now)', () => {
  test('finds nothing in the demo collection with a photograph and a backup', async () => {
    const notebook = makeNotebook()
    addPhoto(notebook)
    await askBackup(notebook)
    expect(await check(notebook)).toEqual([])
    notebook.db.close()
  })

  test.each(FAULTS)('finds %s, and says what to do', async (_, spoil, sentence) => {
    const notebook = makeNotebook()
    spoil(notebook)
    const findings = await checkNotebook(notebook.db, notebook.dataDir, LATER)
    expect(findings).toEqual([{ what: expect.stringMatching(sentence), todo: expect.stringMatching(/\w\.$/) }])
    notebook.db.close()
  })

  test('leaves a file alone that may belong to an upload', async () => {
    const notebook = makeNotebook()
    writePhotoFiles(notebook.dataDir, 'ab'.repeat(16))
    expect(await checkNotebook(notebook.db, notebook.dataDir, NOW)).toEqual([])
    notebook.db.close()
  })
})

describe('npm run admin -- check', () => {
  test('ends with 0 and a sentence when all is well, with 1 and what to do when not', async () => {
    const notebook = makeNotebook()
    const well = await runBuiltAdmin(notebook.dataDir, 'check')
    expect([well.code, well.said]).toEqual([0, expect.stringMatching(/^All is well/)])
    loseRevision(notebook.db)
    const { code, said } = await runBuiltAdmin(notebook.dataDir, 'check')
    expect([code, said]).toEqual([1, expect.stringContaining('What to do: ')])
    notebook.db.close()
  })

  test('with --sweep takes away files of photographs that nothing points at, but none of the last hour', async () => {
    const notebook = makeNotebook()
    const [old, young] = ['ab'.repeat(16), 'cd'.repeat(16)]
    for (const file of [old, young]) writePhotoFiles(notebook.dataDir, file)
    const listed = () =>
      listPhotoFiles(notebook.dataDir).filter(({ name }) => name.includes(old) || name.includes(young))
    const before = new Date(Date.now() - 2 * 3_600_000)
    for (const { name } of listed()) if (name.includes(old)) utimesSync(join(notebook.dataDir, name), before, before)
    expect(await runAdmin(notebook.dataDir, 'check')).toMatchObject({ code: 1 })
    const { code, said } = await runAdmin(notebook.dataDir, 'check', '--sweep')
    expect([code, said]).toEqual([0, expect.stringContaining('Taken away: photos/')])
    expect(listed().length).toBeGreaterThan(0)
    expect(listed().filter(({ name }) => name.includes(old))).toEqual([])
    notebook.db.close()
  })
})
