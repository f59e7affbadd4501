import { createHash } from 'node:crypto'
import { setImmediate as nextTurn } from 'node:timers/promises'
import { expect, test } from 'vitest'
import { gather } from '../../server/archive/gather.ts'
import { writeArchive } from '../../server/archive/write.ts'
import { makeOriginal } from '../support/make.ts'
import { NOW, startApp } from '../support/start.ts'

/** Words that hardly pack, so that the archive is larger than what a stream holds. */
const unpackable = (seed: number) =>
  Array.from({ length: 200 }, (_, at) => createHash('sha256').update(`${seed} ${at}`).digest('base64')).join(' ')

test('writeArchive(gathered) is whole however slowly it is read', async () => {
  const { db } = startApp()
  for (let at = 0; at < 40; at++) makeOriginal(db, { name: `Band ${at}`, notes: unpackable(at) })
  const archive = writeArchive(gather(db, { kind: 'notebook' }), '', { name: 'All', today: '2026-11-25', at: NOW })
  const parts: Buffer[] = []
  for await (const part of archive) {
    parts.push(part as Buffer)
    for (let turn = 0; turn < 20; turn++) await nextTurn()
  }
  const whole = Buffer.concat(parts)
  expect(whole.length).toBeGreaterThan(100_000)
  // The last record of a zip without a comment: APPNOTE.TXT, 4.3.16.
  expect(whole.subarray(-22, -18).toString('latin1')).toBe('PK\x05\x06')
})
