import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openDb } from '../../server/db/open.ts'
import { listSources, readSource } from '../prose/source.ts'
import { makeDataDir, migratedDb, startApp } from '../support/start.ts'

/** These read the database of a backup, or of a copy, and never the one that is open. */
const OF_COPIES = ['manifest', 'restore', 'take', 'verify'].map((name) => `server/backup/${name}.ts`)

// A file that is closed takes with it every lock that the process has on it: another program could write in between.
test('no file of the server that names the database reads a file by other means than SQLite', () => {
  const reading = listSources('server', ['.ts']).filter((path) => {
    const source = readSource(path)
    return (
      /\bDATABASE\b|fellmark\.db/.test(source) &&
      /readFile|copyFile|createReadStream|hashFile|\bopen(Sync)?\(/.test(source)
    )
  })
  expect(reading.toSorted()).toEqual(OF_COPIES)
})

test('POST /sources while another program holds the notebook is a 503 with Retry-After, and reading goes on', async () => {
  const dataDir = makeDataDir()
  const file = join(dataDir, 'fellmark.db')
  const started = startApp(migratedDb(file), dataDir)
  const other = openDb(file)
  other.raw.exec('begin immediate')
  const send = () => started.post('/sources', { title: 'Letter', kind: 'letter' })
  const answer = await send()
  expect([answer.status, answer.headers['retry-after']]).toEqual([503, '2'])
  expect(answer.text).toContain('busy with another program')
  expect((await started.get('/sources')).status).toBe(200)
  other.raw.exec('rollback')
  other.close()
  expect((await send()).status).toBe(303)
})
