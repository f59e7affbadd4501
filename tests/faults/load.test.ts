import Database from 'better-sqlite3'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { send, startServer } from '../support/server.ts'
import { makeDataDir } from '../support/start.ts'
import { copyFolder } from './disk.ts'
import { chanceOf, inFull, numbers, sayTallies, SEED, tally } from './seed.ts'
import { readState } from './state.ts'
import { DRAFT, makeTemplates, type Templates } from './template.ts'
import { waitUntil } from './wait.ts'
import { fileOf } from './writes.ts'

vi.setConfig({ testTimeout: 1_800_000, hookTimeout: 300_000 })

let given: Templates
beforeAll(async () => void (given = await makeTemplates()))
afterAll(sayTallies)

/** Each says what it writes, so that it can be found again: `source A letter 3`. */
type Writing = (mark: string) => Promise<{ answer: Response; row: string } | undefined>

function writings(server: { url: string }): Writing[] {
  const form =
    (table: string, path: string, column: string, fields: Readonly<Record<string, string>> = {}): Writing =>
    async (mark) => ({ answer: await send(server, path, { ...fields, [column]: mark }), row: `${table} ${mark}` })
  return [
    form('source', '/sources', 'title', { kind: 'letter' }),
    form('original', '/originals', 'name'),
    form('draft', '/drafts', 'title', { ...DRAFT }),
    form('piece', '/pieces', 'name', { 'yarns.1.role': 'warp', 'yarns.1.yarn': 'Tow linen' }),
    async (mark) => {
      const photo = fileOf('photo', given.jpeg, 'a.jpg', { caption: mark })
      // The very same picture again is refused, so each is another file behind its end.
      photo.set('photo', new Blob([new Uint8Array(given.jpeg), mark]), 'a.jpg')
      return { answer: await send(server, '/originals/1/photos', photo), row: `photo ${mark}` }
    },
    async () => {
      await send(server, '/keeper/backup')
      return undefined
    },
  ]
}

/** Writes of all kinds at once until the program is gone. @returns the rows that it acknowledged */
function keepWriting(server: { url: string }, round: number) {
  const acknowledged: string[] = []
  const loops = writings(server).map(async (write, kind) => {
    for (let n = 1; ; n++) {
      const done = await write(`Mark ${round}-${kind}-${n}`).catch(() => 'gone' as const)
      if (done === 'gone') return
      if (done?.answer.status === 303) acknowledged.push(done.row)
    }
  })
  return { acknowledged, ended: Promise.all(loops) }
}

/** Of the writings above. */
function rowsIn(dataDir: string): Set<string> {
  const raw = new Database(join(dataDir, 'fellmark.db'), { readonly: true })
  const columns = { source: 'title', original: 'name', draft: 'title', piece: 'name', photo: 'caption' }
  const rows = Object.entries(columns).flatMap(([table, column]) =>
    raw.prepare<[], string>(`select '${table} ' || ${column} from ${table}`).pluck().all(),
  )
  raw.close()
  return new Set(rows)
}

describe(`the program under a mixed load, seed ${SEED}`, () => {
  const rounds = inFull(100, 3)
  test(`killed ${rounds} times at random has lost nothing that it acknowledged, and starts at once`, async () => {
    const random = chanceOf('load')
    const dataDir = makeDataDir()
    copyFolder(given.lone, dataDir)
    const acknowledged: string[] = []
    for (const round of numbers(rounds)) {
      const server = await startServer({ dataDir })
      const writing = keepWriting(server, round)
      const least = 1 + Math.floor(random() * 30)
      await waitUntil(`${least} acknowledged rows`, () => writing.acknowledged.length >= least)
      await new Promise((resolve) => setTimeout(resolve, random() * 30))
      await server.end('SIGKILL')
      await writing.ended
      acknowledged.push(...writing.acknowledged)
      await tally('kill -9 at random', async () => {
        const held = rowsIn(dataDir)
        expect(acknowledged.filter((row) => !held.has(row))).toEqual([])
        // Every tenth time all of it is looked over; each start looks at the database by itself.
        if (round % 10 === 0 || round === rounds) expect((await readState(dataDir)).faults).toEqual([])
      })
    }
    process.stdout.write(`faults: ${acknowledged.length} acknowledged rows over ${rounds} rounds, none lost\n`)
  })
})
