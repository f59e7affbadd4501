import { describe, expect, test } from 'vitest'
import { asViewer } from '../../server/rights/viewer.ts'
import { setVisibility } from '../../server/sharing/queries.ts'
import { listMovements, listPieceLots } from '../../server/yarn/ledger-queries.ts'
import { deleteLot, deleteYarn, findLot, findYarn, listLots, listYarns } from '../../server/yarn/queries.ts'
import { toBin } from '../../server/bin/queries.ts'
import { makePeople } from '../support/people.ts'
import { makePiece } from '../support/make-piece.ts'
import { migratedDb } from '../support/start.ts'
import { makeLot, makeYarn, move } from './make-yarn.ts'

const AT = '2026-11-24T13:00:00.000Z'

describe('listYarns(db)', () => {
  test('reads the count and the blend of each, by name', () => {
    const db = migratedDb()
    makeYarn(db, { name: 'Silk', blend: 'silk', count: '60/2', countReading: 'Nm 60 2 single', build: '' })
    makeYarn(db, { name: 'Mixed', blend: 'wool 80, silk 20' })
    makeYarn(db, { name: 'Unknown', blend: '', count: '' })
    makeYarn(db, { name: 'Of goat', blend: 'goat' })
    const [mixed, goat, silk, unknown] = listYarns(db)
    expect(mixed).toMatchObject({ name: 'Mixed', reading: { system: 'Nm', value: 28, ply: 2 } })
    // 100 / (80 / 1.31 + 20 / 1.34), by the densities of the table of fibres.
    expect(mixed?.density?.gPerCm3).toBeCloseTo(1.3159, 4)
    expect(goat).toMatchObject({ name: 'Of goat', density: undefined })
    expect(silk).toMatchObject({ name: 'Silk', density: { gPerCm3: 1.34 } })
    expect(unknown).toMatchObject({ reading: undefined, density: undefined, parts: [] })
  })
})

describe('listLots(db), findLot(db, id)', () => {
  test('sum the ledger of each lot: on hand, reserved and free', () => {
    const db = migratedDb()
    const [one, other] = [makeLot(db), makeLot(db)]
    const piece = makePiece(db)
    expect(findLot(db, one)).toMatchObject({ onHandMg: 0, reservedMg: 0, freeMg: 0 })
    move(db, one, 'bought', 250_000)
    move(db, one, 'reserved', 90_500, piece)
    move(db, one, 'used', 30_250, piece)
    move(db, other, 'bought', 1)
    expect(findLot(db, one)).toMatchObject({ onHandMg: 219_750, reservedMg: 60_250, freeMg: 159_500 })
    expect(listLots(db).map(({ id, onHandMg }) => [id, onHandMg])).toEqual([
      [one, 219_750],
      [other, 1],
    ])
    expect(listLots(db, findLot(db, other)!.yarnId)).toHaveLength(1)
    expect(listPieceLots(db, piece)).toEqual([{ lotId: one, reservedMg: 60_250, usedMg: 30_250 }])
  })

  test('show a colour measured in CIELAB as a screen can', () => {
    const db = migratedDb()
    const id = makeLot(db, undefined, { colourHex: '', colourLab: '100 0 0' })
    expect(findLot(db, id)).toMatchObject({ hex: '#ffffff', lab: [100, 0, 0] })
    const none = makeLot(db, undefined, { colourHex: '' })
    expect(findLot(db, none)).toMatchObject({ hex: '', lab: undefined })
  })

  test('leave out what lies in the bin, and lots whose yarn does', () => {
    const db = migratedDb()
    const yarn = makeYarn(db)
    const [lot, gone] = [makeLot(db, yarn), makeLot(db, yarn)]
    deleteLot(db, gone, AT)
    expect(listLots(db).map(({ id }) => id)).toEqual([lot])
    deleteYarn(db, yarn, AT)
    expect(listLots(db)).toEqual([])
    expect(findYarn(db, yarn)).toBeUndefined()
  })

  test('tell supplier and price to the owner alone, whatever is shared', () => {
    const db = migratedDb()
    const { owner: ada, other: bea } = makePeople(db)
    const lot = asViewer(ada, () => makeLot(db))
    const { yarnId } = asViewer(ada, () => findLot(db, lot)!)
    expect(asViewer(bea, () => [findLot(db, lot), listYarns(db).length])).toEqual([undefined, 0])
    asViewer(ada, () => setVisibility(db, 'yarn', yarnId, 'members', false))
    expect(asViewer(ada, () => findLot(db, lot))).toMatchObject({
      supplier: 'The dyer at Ran',
      price: { minor: 1250, currency: 'EUR', for: '100g' },
      yarn: { supplier: 'The mill at Oss' },
    })
    expect(asViewer(bea, () => findLot(db, lot))).toMatchObject({
      ...{ supplier: '', price: undefined, colourName: 'madder red' },
      yarn: { supplier: '', name: 'Fen wool' },
    })
  })
})

describe('the table of movements', () => {
  test('is never changed and never deleted, but goes with its lot', () => {
    const db = migratedDb()
    const lot = makeLot(db)
    move(db, lot, 'bought', 1000)
    expect(() => db.raw.exec('update movement set mass_mg = 2000')).toThrow('a movement is never changed')
    expect(() => db.raw.exec("update movement set note = 'x'")).toThrow('a movement is never changed')
    expect(() => db.raw.exec('delete from movement')).toThrow('a movement is never deleted')
    db.raw.exec('delete from yarn')
    expect(db.raw.prepare('select count(*) from movement').pluck().get()).toBe(0)
  })

  test('keeps what was used for a piece that is gone', () => {
    const db = migratedDb()
    const lot = makeLot(db)
    const piece = makePiece(db)
    move(db, lot, 'bought', 100_000)
    move(db, lot, 'used', 40_000, piece)
    toBin(db, 'piece', piece, AT)
    db.raw.exec('delete from piece')
    expect(findLot(db, lot)).toMatchObject({ onHandMg: 60_000 })
    expect(listMovements(db, lot).map(({ kind, pieceId }) => [kind, pieceId])).toEqual([
      ['bought', undefined],
      ['used', undefined],
    ])
  })

  test('cannot move to another piece, nor to another lot', () => {
    const db = migratedDb()
    const lot = makeLot(db)
    const [piece, other] = [makePiece(db), makePiece(db)]
    move(db, lot, 'reserved', 1000, piece)
    expect(() => db.raw.exec(`update movement set piece_id = ${other}`)).toThrow('never changed')
    expect(() => db.raw.exec(`update movement set lot_id = ${makeLot(db)}`)).toThrow('never changed')
  })
})
