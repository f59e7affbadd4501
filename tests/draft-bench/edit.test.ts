import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Bench, benchOf, draftOn, fitBlock } from '../../shared/draft/edit/bench.ts'
import { CLOSEST_READABLE, listClashes } from '../../shared/draft/edit/colour-clash.ts'
import { addColour, removeColour, setHexes } from '../../shared/draft/edit/colour-edit.ts'
import { netOf, untwist } from '../../shared/draft/edit/neutralise.ts'
import { applyEdit, type Edit, invertEdit, isRefused, type Refused } from '../../shared/draft/edit/step.ts'
import * as tablet from '../../shared/draft/edit/tablet-edit.ts'
import * as turn from '../../shared/draft/edit/turn-edit.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import { COLOURS, arbitraryDraft, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'

const bench = (...rows: string[]): Bench => {
  const tablets = Array.from({ length: rows[0]!.length }, (_, at) => makeTablet({ threading: at % 2 ? 'Z' : 'S' }))
  return benchOf(
    draftOf(
      tablets,
      rows.map((row) => [...row].map((turn) => ({ F: 1, B: -1, I: 0 })[turn]!)),
    ).draft,
  )
}
const rowsOf = ({ turning: { tablets, picks, turns } }: Bench) =>
  Array.from({ length: picks }, (_, pick) =>
    [...turns.subarray(pick * tablets, (pick + 1) * tablets)].map((one) => 'BIF'[one + 1]).join(''),
  )
const after = (one: Bench, made: Edit | Refused): Bench => {
  if (isRefused(made)) throw new Error(made.why)
  return applyEdit(one, made)
}

describe('edits of the turning', () => {
  const one = bench('FFBB', 'FBBF', 'BBFF')
  const block = { tablets: [0, 1, 3], from: 0, to: 1 }
  test.each([
    ['paintBlock', turn.paintBlock(one, block, 0), ['IIBI', 'IIBI', 'BBFF']],
    ['turnOver', turn.turnOver(one, block), ['BBBF', 'BFBB', 'BBFF']],
    ['reverseOrder', turn.reverseOrder(one, block), ['FBBF', 'FFBB', 'BBFF']],
    ['mirrorTurns', turn.mirrorTurns(one, block), ['BFBF', 'FBBF', 'BBFF']],
    ['carryOn', turn.carryOn(one, block), ['FFBB', 'FBBF', 'FFFB']],
    ['insertPick', turn.insertPick(one, 1, 2), ['FFBB', 'BBFF', 'FBBF', 'BBFF']],
    ['deletePicks', turn.deletePicks(one, 0, 1), ['BBFF']],
    ['repeatPicks', turn.repeatPicks(one, 1, 2, 2), ['FFBB', 'FBBF', 'BBFF', 'FBBF', 'BBFF', 'FBBF', 'BBFF']],
    ['weaveBack', turn.weaveBack(one, 0, 1), ['FFBB', 'FBBF', 'BFFB', 'BBFF', 'BBFF']],
  ])('%s gives the rows that it says', (_name, made, rows) => {
    expect(rowsOf(after(one, made))).toEqual(rows)
  })

  test('deletePicks(bench, from, to) refuses to leave no pick; replacePicks refuses more than 20,000', () => {
    expect(turn.deletePicks(one, 0, 2)).toEqual({ why: 'A draft needs at least one pick.' })
    expect(turn.repeatPicks(one, 0, 2, 7000)).toEqual({ why: 'That would be 21003 picks; at most 20000 fit.' })
  })

  test('paintBlock(bench, block, turn) keeps only the turns that change, and none when all are so already', () => {
    expect(turn.paintBlock(one, { tablets: [0, 2], from: 0, to: 0 }, 1).steps).toMatchObject([
      { cells: Int32Array.of(2) },
    ])
    expect(turn.paintBlock(one, { tablets: [0, 1], from: 0, to: 0 }, 1).steps).toEqual([])
  })
})

describe('edits of the tablets', () => {
  const one = bench('FBI', 'BFF')
  const slants = ({ tablets }: Bench) => tablets.map(({ threading }) => threading).join('')
  test.each([
    ['insertTablet', tablet.insertTablet(one, 1, 2), 'SSZS', ['FIBI', 'BFFF']],
    ['deleteTablets', tablet.deleteTablets(one, 0, 1), 'S', ['I', 'F']],
    ['repeatTablets', tablet.repeatTablets(one, 0, 1, 1), 'SZSZS', ['FBFBI', 'BFBFF']],
    ['mirrorInPlace', tablet.mirrorInPlace(one, 0, 1), 'SZS', ['BFI', 'FBF']],
    ['mirrorAfter', tablet.mirrorAfter(one, 0, 2), 'SZSZSZ', ['FBIIBF', 'BFFFFB']],
    ['moveTablets', tablet.moveTablets(one, 0, 0, 2), 'ZSS', ['BIF', 'FFB']],
  ])('%s gives the tablets and turns that it says', (_name, made, threading, rows) => {
    const changed = after(one, made)
    expect([slants(changed), ...rowsOf(changed)]).toEqual([threading, ...rows])
  })

  test('a mirrored band weaves the mirrored face', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning }) => {
        const there = benchOf(draft)
        const mirrored = after(there, tablet.mirrorInPlace(there, 0, turning.tablets - 1))
        const faceOf = (of: Bench) => colourGrid(draftOn(of), weave(draftOn(of), of.turning), 'face')
        expect(faceOf(mirrored)).toEqual(faceOf(there).map((row) => row.toReversed()))
      }),
      { numRuns: 60 },
    )
  })

  test('moveTablets, deleteTablets and repeatTablets refuse what cannot be', () => {
    expect(tablet.moveTablets(one, 0, 1, -1)).toEqual({ why: 'There is no further place on this side.' })
    expect(tablet.deleteTablets(one, 0, 2)).toEqual({ why: 'A draft needs at least one tablet.' })
    expect(tablet.repeatTablets(one, 0, 2, 200)).toEqual({ why: 'That would be 603 tablets; at most 400 fit.' })
  })
})

test('untwist(bench, block): each way that leaves nothing over makes the block and what it adds neutral', () => {
  fc.assert(
    fc.property(arbitraryDraft, ({ draft, turning }) => {
      const there = benchOf(draft)
      const all = { tablets: [...Array(turning.tablets).keys()], from: 0, to: turning.picks - 1 }
      const ways = untwist(there, all)
      expect(ways.length === 0).toBe(netOf(there, all).every((net) => net === 0))
      for (const { key, text, edit } of ways) {
        if (isRefused(edit)) continue
        const changed = applyEdit(there, edit)
        const net = netOf(changed, { ...all, to: changed.turning.picks - 1 })
        if (key === 'turnOver' && text.includes('cannot be evened out'))
          expect(changed.turning.picks).toBe(turning.picks)
        else expect(net.every((one) => one === 0)).toBe(true)
      }
    }),
    { numRuns: 100 },
  )
})

test('invertEdit(edit) takes back every edit to the last turn', () => {
  const one = bench('FFBB', 'FBBF', 'BBFF')
  for (const made of [turn.weaveBack(one, 0, 2), tablet.moveTablets(one, 0, 1, 1), setHexes(one, { m: '#112233' })]) {
    if (isRefused(made)) throw new Error(made.why)
    expect(applyEdit(applyEdit(one, made), invertEdit(made))).toEqual(one)
  }
})

test('fitBlock(bench, block) cuts off what is not there', () => {
  const one = bench('FF', 'BB')
  expect(fitBlock(one, { tablets: [1, 2], from: 1, to: 5 })).toEqual({ tablets: [1], from: 1, to: 1 })
  expect(fitBlock(one, { tablets: [2], from: 0, to: 1 })).toBeUndefined()
})

describe('colours', () => {
  const one = bench('FF')
  test('removeColour(bench, key) refuses what a hole or the weft has, addColour takes the first free letter', () => {
    expect(removeColour(one, 'm')).toEqual({ why: 'The weft has this colour, so it stays.' })
    expect(removeColour(one, 'b2')).toEqual({ why: '2 tablets have this colour, so it stays.' })
    const more = after(one, addColour(one, { name: 'weld', hex: '#c9a227' }))
    expect(Object.keys(more.colours)).toEqual([...Object.keys(COLOURS), 'a'])
    expect(after(more, removeColour(more, 'a')).colours).toEqual(one.colours)
  })

  test('listClashes(draft) names pairs in use that are too close, and no colour that nothing has', () => {
    const colours = { ...COLOURS, w: { name: 'pink', hex: '#a2402f' }, z: { name: 'unused', hex: '#9c3b2e' } }
    const found = listClashes({ ...one, colours })
    expect(found.map(({ one, other }) => [one, other])).toEqual([['m', 'w']])
    expect(found[0]!.difference).toBeLessThan(CLOSEST_READABLE)
    expect(listClashes(one)).toEqual([])
  })
})
