import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  balanceOf,
  gramsText,
  planCorrection,
  planMovement,
  readGrams,
  reservedFor,
  runningBalance,
  type Change,
  type Entry,
  type MovementKind,
} from '../../shared/yarn/ledger.ts'

type Written = Entry & Pick<Change, 'foundMg'>
type Typed = Exclude<MovementKind, 'correction'>

/** Writes movements one after the other; each is what the form would keep, with every question answered yes. */
function ledger() {
  const entries: Written[] = []
  const write = (kind: MovementKind, change: Change, pieceId?: number, correctsId?: number) =>
    void entries.push({ ...change, id: entries.length + 1, kind, pieceId, correctsId })
  return {
    entries,
    move(kind: Typed, mg: number, pieceId?: number) {
      const planned = planMovement(kind, mg, entries, pieceId)
      if (planned.ok) write(kind, planned.change, pieceId)
      return planned
    },
    correct(id: number, mg: number) {
      const entry = entries.find((one) => one.id === id)!
      const planned = planCorrection(entry, mg, entries)
      if (planned.ok) write('correction', planned.change, entry.pieceId, id)
      return planned
    },
  }
}

describe('planMovement(kind, mg, entries)', () => {
  test('adds what comes and takes what goes', () => {
    const { entries, move } = ledger()
    for (const [kind, mg] of [
      ['bought', 500_000],
      ['dyed', 100_000],
      ['sample', 2_500],
      ['lost', 1_000],
      ['returned', 10],
    ] as const)
      move(kind, mg)
    expect(balanceOf(entries)).toEqual({ onHandMg: 396_510, reservedMg: 0, freeMg: 396_510 })
    expect(runningBalance(entries).map(({ onHandMg }) => onHandMg)).toEqual([
      ...[500_000, 400_000, 397_500, 396_500, 396_510],
    ])
  })

  test('takes what is used for a piece out of what was reserved for it, and no more', () => {
    const { entries, move } = ledger()
    move('bought', 500_000)
    move('reserved', 100_000, 1)
    move('reserved', 50_000, 2)
    move('used', 60_000, 1)
    expect(reservedFor(entries, 1)).toBe(40_000)
    move('used', 60_000, 1)
    expect(reservedFor(entries, 1)).toBe(0)
    expect(balanceOf(entries)).toEqual({ onHandMg: 380_000, reservedMg: 50_000, freeMg: 330_000 })
  })

  test('keeps both figures of a stock-take, and the difference as the entry', () => {
    const { entries, move } = ledger()
    move('bought', 500_000)
    move('stocktake', 487_300)
    expect(entries[1]).toMatchObject({ massMg: -12_700, expectedMg: 500_000, foundMg: 487_300 })
    expect(balanceOf(entries).onHandMg).toBe(487_300)
  })

  test('asks before less than nothing is on hand, and before more is promised than is free', () => {
    const { move } = ledger()
    move('bought', 100_000)
    expect(move('reserved', 120_000, 1)).toMatchObject({
      ok: true,
      question: expect.stringContaining('Only 100 g are free, so 20 g more'),
    })
    expect(move('used', 100_000, 1)).toMatchObject({ ok: true, question: '' })
    expect(move('used', 500, 1)).toMatchObject({ ok: true, question: expect.stringContaining('0 g are on hand') })
  })

  test('refuses to release more than is reserved', () => {
    const { move } = ledger()
    move('bought', 100_000)
    move('reserved', 20_000, 1)
    expect(move('released', 20_001, 1)).toMatchObject({ ok: false, message: expect.stringContaining('Only 20 g') })
    expect(move('released', 1, 2)).toMatchObject({ ok: false, message: expect.stringContaining('Only 0 g') })
  })
})

describe('planCorrection(entry, mg, entries)', () => {
  test('leaves the ledger as if the right figure had stood there', () => {
    const { entries, move, correct } = ledger()
    move('bought', 100_000)
    correct(1, 110_000)
    expect(balanceOf(entries).onHandMg).toBe(110_000)
    correct(1, 90_000)
    expect(balanceOf(entries).onHandMg).toBe(90_000)
    expect(correct(1, 90_000)).toMatchObject({ ok: false })
    expect(entries.map(({ massMg }) => massMg)).toEqual([100_000, 10_000, -20_000])
  })

  test('of what was used takes as much of the reservation as it would have', () => {
    const { entries, move, correct } = ledger()
    move('bought', 500_000)
    move('reserved', 100_000, 1)
    move('used', 80_000, 1)
    correct(3, 30_000)
    expect(reservedFor(entries, 1)).toBe(70_000)
    correct(3, 120_000)
    expect(balanceOf(entries)).toEqual({ onHandMg: 380_000, reservedMg: 0, freeMg: 380_000 })
  })

  test('of a stock-take takes the weight that was really read', () => {
    const { entries, move, correct } = ledger()
    move('bought', 500_000)
    move('stocktake', 487_300)
    move('used', 10_000)
    correct(2, 497_300)
    expect(balanceOf(entries).onHandMg).toBe(487_300)
  })
})

describe('a ledger under random movements', () => {
  const KINDS = ['bought', 'dyed', 'reserved', 'released', 'used', 'returned', 'sample', 'lost', 'stocktake'] as const
  const step = fc.record({
    kind: fc.constantFrom(...KINDS),
    mg: fc.integer({ min: 1, max: 1_000_000_000 }),
    piece: fc.constantFrom(1, 2, undefined),
    corrects: fc.option(fc.nat(30)),
  })

  test('sums to what a plain account beside it says, whatever the order, and no reservation falls below nothing', () => {
    let corrections = 0
    fc.assert(
      fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
        const { entries, move, correct } = ledger()
        // The account: what each entry should say by now, kept apart from the sums of the ledger.
        let onHand = 0
        const says = new Map<number, number>()
        const IN = new Set<MovementKind>(['bought', 'returned'])
        const OUT = new Set<MovementKind>(['dyed', 'used', 'sample', 'lost'])
        for (const { kind, mg, piece, corrects } of steps) {
          const target = entries[corrects ?? -1]
          if (target && target.kind !== 'correction' && target.kind !== 'stocktake') {
            if (!correct(target.id, mg).ok) continue
            corrections++
            const was = says.get(target.id)!
            says.set(target.id, mg)
            if (IN.has(target.kind)) onHand += mg - was
            if (OUT.has(target.kind)) onHand -= mg - was
            continue
          }
          if (!move(kind, mg, piece).ok) continue
          says.set(entries.length, mg)
          if (IN.has(kind)) onHand += mg
          if (OUT.has(kind)) onHand -= mg
          if (kind === 'stocktake') onHand = mg
        }
        for (const piece of [1, 2, undefined]) expect(reservedFor(entries, piece)).toBeGreaterThanOrEqual(0)
        const { onHandMg, reservedMg, freeMg } = balanceOf(entries)
        expect(onHandMg).toBe(onHand)
        expect(freeMg).toBe(onHandMg - reservedMg)
        expect(balanceOf([...entries].reverse())).toEqual(balanceOf(entries))
        expect(runningBalance(entries).at(-1) ?? balanceOf([])).toEqual(balanceOf(entries))
        for (const { massMg, reservedMg: reserved } of entries)
          expect([massMg, reserved].every(Number.isSafeInteger)).toBe(true)
      }),
      { numRuns: 400 },
    )
    expect(corrections).toBeGreaterThan(100)
  })
})

describe('readGrams(text), gramsText(mg)', () => {
  test.each([
    ['97.4', 97_400],
    ['97,4', 97_400],
    ['0.001', 1],
    ['250', 250_000],
    ['999999.999', 999_999_999],
  ])('read %s as %i mg, and write it so that it is read again', (text, mg) => {
    expect(readGrams(text)).toBe(mg)
    expect(readGrams(gramsText(mg))).toBe(mg)
  })

  test.each(['', '-1', '1e3', '0.0001', '1 kg', '1000000', '.5'])('refuse “%s”', (text) => {
    expect(readGrams(text)).toBeUndefined()
  })

  test('keep a minus', () => {
    expect([gramsText(-12_700), gramsText(-1), gramsText(0)]).toEqual(['-12.7', '-0.001', '0'])
  })
})
