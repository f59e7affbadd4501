import type { AddressInfo } from 'node:net'
import fc from 'fast-check'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { runningBalance } from '../../shared/yarn/ledger.ts'
import { listLots } from '../../server/yarn/queries.ts'
import { listMovements } from '../../server/yarn/ledger-queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { makeLot, makeYarn } from './make-yarn.ts'

const { app, db } = startApp()
const server = app.listen(0, '127.0.0.1')
let address = ''
beforeAll(async () => {
  if (!server.listening) await new Promise<void>((resolve) => server.once('listening', resolve))
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})
afterAll(async () => {
  server.closeAllConnections()
  await new Promise((resolve) => server.close(resolve))
})

async function send(path: string, fields: Record<string, string>): Promise<number> {
  const asked = { method: 'POST', redirect: 'manual', headers: { Origin: address } } as const
  return (await fetch(address + path, { ...asked, body: new URLSearchParams(fields) })).status
}

/** One of two lots, what is done to it, and how many grams; every tenth a weight nobody has. */
const step = fc.record({
  first: fc.boolean(),
  kind: fc.constantFrom(
    'bought',
    'used',
    'reserved',
    'released',
    'sample',
    'lost',
    'returned',
    'stocktake',
    'dyed',
    'settle',
    'correct',
  ),
  grams: fc.integer({ min: 1, max: 400 }).map((tenths) => (tenths / 10).toFixed(1)),
  at: fc.nat(1000),
})

/** What of one lot and piece is entered at the same moment, by the fields of the forms. */
function fieldsOf({ kind, grams }: { kind: string; grams: string }, piece: number, other: number) {
  const of = ['used', 'reserved', 'released', 'returned'].includes(kind) ? { piece: `${piece}` } : {}
  return { kind, grams, day: '2026-11-20', note: '', ...of, ...(kind === 'dyed' ? { otherLot: `${other}` } : {}) }
}

test('many at once: on hand is the sum of what was taken, never below zero, no promise beyond it, dyed grams go nowhere else', async () => {
  const yarn = makeYarn(db)
  let taken = 0
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 25, maxLength: 40 }), async (steps) => {
      const lots = [makeLot(db, yarn), makeLot(db, yarn)] as const
      const piece = makePiece(db)
      for (const lot of lots)
        await send(`/lots/${lot}/movements`, { kind: 'bought', grams: '100', day: '2026-11-20', note: '' })
      const count = () => lots.reduce((sum, lot) => sum + listMovements(db, lot).length, 0)
      const before = count()
      const answers = await Promise.all(
        steps.map(async (one) => {
          const [lot, other] = one.first ? lots : [lots[1], lots[0]]
          if (one.kind === 'settle')
            return {
              one,
              status: await send(`/pieces/${piece}/settle`, {
                [`used-${lot}`]: one.grams,
                day: '2026-11-20',
                accept: '',
              }),
            }
          if (one.kind === 'correct') {
            const id = db.raw.prepare('select min(id) from movement where lot_id = ?').pluck().get(lot)
            return {
              one,
              status: await send(`/movements/${String(id)}/correct`, {
                grams: one.grams,
                day: '2026-11-20',
                note: 'misread',
              }),
            }
          }
          return { one, status: await send(`/lots/${lot}/movements`, fieldsOf(one, piece, other)) }
        }),
      )
      const done = answers.filter(({ status }) => status === 303)
      taken += done.length
      expect(answers.every(({ status }) => status === 303 || status === 422)).toBe(true)
      // A settlement writes one entry or two, what is dyed stands in both ledgers, everything else is one entry.
      const [one, two, settled] = [
        done.filter(({ one: { kind } }) => kind !== 'dyed' && kind !== 'settle').length,
        done.filter(({ one: { kind } }) => kind === 'dyed').length,
        done.filter(({ one: { kind } }) => kind === 'settle').length,
      ]
      const written = count() - before
      expect(written).toBeGreaterThanOrEqual(one + 2 * two + settled)
      expect(written).toBeLessThanOrEqual(one + 2 * two + 2 * settled)

      let dyed = 0
      for (const lot of lots) {
        const entries = listMovements(db, lot)
        const running = runningBalance(entries)
        for (const [at, { onHandMg, freeMg }] of running.entries()) {
          const entry = entries[at]!
          expect(onHandMg, `${entry.kind} of ${entry.massMg}`).toBeGreaterThanOrEqual(0)
          if (entry.reservedMg > 0 && entry.kind === 'reserved') expect(freeMg).toBeGreaterThanOrEqual(0)
          if (entry.kind === 'stocktake') expect(onHandMg).toBe(entry.foundMg)
        }
        const shown = listLots(db).find(({ id }) => id === lot)!
        expect(shown).toMatchObject({ ...running.at(-1) })
        dyed += entries.filter(({ kind }) => kind === 'dyed').reduce((sum, { massMg }) => sum + massMg, 0)
        const left = entries.reduce((sum, { reservedMg, pieceId }) => sum + (pieceId === piece ? reservedMg : 0), 0)
        expect(left).toBeGreaterThanOrEqual(0)
      }
      expect(dyed).toBe(0)
    }),
    { numRuns: 12, seed: 20261128 },
  )
  // A property that refuses nearly everything would prove nearly nothing.
  expect(taken).toBeGreaterThan(150)
}, 120_000)
