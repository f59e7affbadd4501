import { describe, expect, test } from 'vitest'
import { insertFeature, listOwnFeatures } from '../../server/claim/feature-queries.ts'
import { findClaim, listClaims, listWorkingClaims, setWorking, withdrawClaim } from '../../server/claim/queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { makeClaim, makeOriginal } from '../support/make.ts'
import { migratedDb } from '../support/start.ts'

const BLANK = { kind: 'blank', blank: 'notPublished', unit: '' } as const

function start() {
  const db = migratedDb()
  const subject = { originalId: makeOriginal(db) }
  const working = () => listWorkingClaims(db, subject).map((claim) => [claim.feature, claim.part, claim.id])
  return { db, subject, working }
}

describe('insertClaim(db, subject, form, at)', () => {
  test('makes the first claim with a value the working one, of each feature and part', () => {
    const { db, subject, working } = start()
    makeClaim(db, subject, BLANK)
    const first = makeClaim(db, subject)
    makeClaim(db, subject, { value: '14' })
    const warp = makeClaim(db, subject, { feature: 'colour', part: 'warp', kind: 'text', words: 'red', unit: '' })
    const weft = makeClaim(db, subject, { feature: 'colour', part: 'weft', kind: 'text', words: 'blue', unit: '' })
    expect(working()).toEqual([
      ['width', '', first.id],
      ['colour', 'warp', warp.id],
      ['colour', 'weft', weft.id],
    ])
  })

  test('takes the place of the working one only when it says so', () => {
    const { db, subject, working } = start()
    makeClaim(db, subject)
    const second = makeClaim(db, subject, { value: '14', isWorking: true })
    expect(working()).toEqual([['width', '', second.id]])
  })

  test('keeps claims about a piece and about an original with the same number apart', () => {
    const { db, subject } = start()
    const piece = { pieceId: makePiece(db) }
    const [onOriginal, onPiece] = [makeClaim(db, subject), makeClaim(db, piece, { value: '20' })]
    expect([onOriginal.isWorking, onPiece.isWorking]).toEqual([true, true])
    expect(listClaims(db, piece).map((claim) => claim.value)).toEqual(['20'])
  })
})

describe('listWorkingClaims(db, subject)', () => {
  test('gives the newest standing blank of a feature that has no working claim', () => {
    const { db, subject, working } = start()
    makeClaim(db, subject, BLANK)
    const second = makeClaim(db, subject, { ...BLANK, blank: 'notAnalysed' })
    const third = makeClaim(db, subject, { ...BLANK, blank: 'notPreserved' })
    withdrawClaim(db, third.id, 'It is there after all.', '2026-11-24')
    expect(working()).toEqual([['width', '', second.id]])
  })
})

describe('setWorking(db, id, reason)', () => {
  test('lets one claim be the working one, with its reason', () => {
    const { db, subject } = start()
    const [first, second] = [makeClaim(db, subject), makeClaim(db, subject, { value: '14' })]
    expect(setWorking(db, second.id, 'Measured on the object.')).toBe('done')
    expect(findClaim(db, first.id)?.isWorking).toBe(false)
    expect(findClaim(db, second.id)).toMatchObject({ isWorking: true, workingReason: 'Measured on the object.' })
  })

  test('refuses a withdrawn claim and one that is not there', () => {
    const { db, subject } = start()
    const claim = makeClaim(db, subject)
    withdrawClaim(db, claim.id, 'Misread.', '2026-11-24')
    expect([setWorking(db, claim.id, ''), setWorking(db, 99, '')]).toEqual(['withdrawn', 'absent'])
  })
})

describe('withdrawClaim(db, id, reason, on)', () => {
  test('keeps the claim with its reason and puts nothing in its place', () => {
    const { db, subject, working } = start()
    const [first] = [makeClaim(db, subject), makeClaim(db, subject, { value: '14' })]
    expect(withdrawClaim(db, first.id, 'Misread.', '2026-11-24')).toBe('done')
    expect(working()).toEqual([])
    expect(findClaim(db, first.id)).toMatchObject({
      ...{ value: '13.0', isWorking: false, withdrawnOn: '2026-11-24', withdrawnReason: 'Misread.' },
    })
    expect(withdrawClaim(db, first.id, 'Again.', '2026-11-25')).toBe('withdrawn')
  })
})

describe('insertFeature(db, form, at)', () => {
  test('adds a feature with units, and takes no label twice, built in or not', () => {
    const { db } = start()
    const add = (label: string) => insertFeature(db, { label, kind: 'length' }, '2026-11-24T12:00:00Z')
    expect(add('Fringe length')).toEqual({ outcome: 'added', key: 'own-fringe-length' })
    expect(add('fringe  LENGTH')).toEqual({ outcome: 'taken', key: 'own-fringe-length' })
    expect(add('width')).toEqual({ outcome: 'taken', key: 'width' })
    expect(add('Ширина')).toEqual({ outcome: 'added', key: 'own-1' })
    expect(add('Fringe, length')).toEqual({ outcome: 'added', key: 'own-fringe-length-2' })
    expect(listOwnFeatures(db)[0]).toMatchObject({ baseUnit: 'mm', group: 'dimensions', comparesAsRatio: true })
  })
})
