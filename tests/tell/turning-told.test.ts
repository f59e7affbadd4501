import fc from 'fast-check'
import { expect, test } from 'vitest'
import { classPicks } from '../../shared/draft/packs.ts'
import { tellBriefly } from '../../shared/draft/tell/brief-tell.ts'
import { measureComplexity } from '../../shared/draft/tell/complexity.ts'
import { tellFloats } from '../../shared/draft/tell/float-place.ts'
import { countChanges, countHandfuls } from '../../shared/draft/tell/handful.ts'
import { listPickKinds } from '../../shared/draft/tell/pick-kind.ts'
import { listTwistRuns, standAfter, twistOf } from '../../shared/draft/tell/twist-run.ts'
import { weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'
import { turnByHand } from '../draft/corner-tablet.ts'

const one = (...turns: number[]) =>
  draftOf(
    [makeTablet()],
    turns.map((turn) => [turn]),
  )
const two = (...picks: [number, number][]) => draftOf([makeTablet(), makeTablet({ threading: 'Z' })], picks)

test('listTwistRuns(turning) gives net, furthest and the first pick at which it stands there', () => {
  expect(listTwistRuns(one(1, 1, 1, -1, -1).turning)).toEqual([
    { tablet: 1, net: 1, high: 3, low: 0, most: 3, mostAt: 3 },
  ])
  expect(listTwistRuns(one(1, -1, -1, 1).turning)[0]).toMatchObject({ net: 0, high: 1, low: -1, most: 1, mostAt: 1 })
  expect(listTwistRuns(one(-2, -2, 0, 1).turning)[0]).toMatchObject({ net: -3, most: -4, mostAt: 2 })
  expect(listTwistRuns(one(0, 0).turning)[0]).toMatchObject({ net: 0, most: 0, mostAt: 0 })
})

test('standAfter(run, repeats) stands where as many repeats woven out in full bring it', () => {
  fc.assert(
    fc.property(arbitraryDraft, fc.integer({ min: 1, max: 5 }), ({ turning, turns }, repeats) => {
      const long = Array.from({ length: repeats }, () => turns).flat()
      listTwistRuns(turning).forEach((run, tablet) => {
        let [stand, most] = [0, 0]
        for (const pick of long) most = Math.max(most, Math.abs((stand += pick[tablet]!)))
        const last = standAfter(run, repeats).at(-1)
        expect(last).toEqual({ repeat: repeats, turns: stand / 4, most: most / 4 })
      })
    }),
    { numRuns: 40 },
  )
  expect(() => standAfter(listTwistRuns(one(1).turning)[0]!, 0)).toThrow(RangeError)
})

test('twistOf(threading, net) is the opposite of the cord that the slants show', () => {
  // Stitches like "/" are a cord twined Z (design: S turned forward lays "/" and twines the cord Z, the warp S).
  for (const threading of ['S', 'Z'] as const) {
    for (const turn of [1, -1]) {
      const cord = turnByHand(threading, 'A', [turn])[0]!.slant === '/' ? 'Z' : 'S'
      expect(twistOf(threading, turn * 4)).toBe(cord === 'Z' ? 'S' : 'Z')
    }
  }
  expect(twistOf('S', 0)).toBeUndefined()
})

test('countHandfuls(turning) and countChanges(turning) count what a plain look at each pick finds', () => {
  const { turning } = draftOf(
    Array.from({ length: 6 }, () => makeTablet()),
    [
      [1, 1, 1, 1, 1, 1],
      [1, 1, -1, -1, 1, 1],
      [0, 2, -1, -1, -2, 1],
    ],
  )
  expect([...countHandfuls(turning)]).toEqual([1, 3, 5])
  // Against the pick before, and pick 1 against pick 3: tablets 3, 4, 5.
  expect([...countChanges(turning)]).toEqual([3, 2, 1])
  expect([...countChanges(one(1, 1, -1, 0, 1).turning)]).toEqual([0, 0, 1, 0, 1])
  expect([...countChanges(one(0, 0).turning)]).toEqual([0, 0])
})

test('measureComplexity(turning) agrees with figures worked by hand', () => {
  expect(measureComplexity(two([1, 1], [1, 1], [-1, -1], [-1, -1]).turning)).toEqual({
    ...{ tablets: 2, picks: 4, changesPerPick: 1, handfulsPerPick: 1, packs: 1, distinctPicks: 2 },
    ...{ bitsPerPick: 1, bitsPerPickAlone: 1 },
  })
  expect(measureComplexity({ tablets: 2, picks: 0, turns: new Int8Array() })).toMatchObject({
    ...{ changesPerPick: 0, handfulsPerPick: 0, packs: 0, distinctPicks: 0, bitsPerPick: 0 },
  })
})

test('classPicks(turning) and listPickKinds(turning) find equal, opposite and mirrored picks', () => {
  const { turning } = draftOf(
    [makeTablet(), makeTablet(), makeTablet()],
    [
      [1, 1, -1],
      [-1, -1, 1],
      [1, 1, -1],
      [-1, 1, 1],
      [0, 0, 0],
      [2, 1, 2],
    ],
  )
  expect([...classPicks(turning)]).toEqual([0, 1, 0, 2, 3, 4])
  expect(listPickKinds(turning)).toEqual([
    { kind: 1, picks: [1, 3], opposite: 2, mirrored: 3 },
    { kind: 2, picks: [2], opposite: 1, mirrored: 0 },
    { kind: 3, picks: [4], opposite: 0, mirrored: 1 },
    { kind: 4, picks: [5], opposite: 4, mirrored: 4 },
    { kind: 5, picks: [6], opposite: 0, mirrored: 5 },
  ])
})

test('tellFloats(draft, woven, limit) counts each float once by side, and names places over the limit', () => {
  const { draft, turning } = one(1, -1, 1, 1, -1, -1)
  const told = tellFloats(draft, weave(draft, turning), 3)
  // Second way: thread by thread round six repeats, what stays up and what stays down.
  const seen = turnByHand('S', 'A', Array.from({ length: 6 }, () => [1, -1, 1, 1, -1, -1]).flat())
  const lengths = { face: [] as number[], reverse: [] as number[] }
  for (const hole of ['A', 'B', 'C', 'D'] as const) {
    const up = seen.map((pick) => pick.up.includes(hole))
    for (let pick = 6; pick < 12; pick++) {
      if (up[pick] === up[pick - 1]) continue
      let to = pick
      while (up[to] === up[pick]) to++
      lengths[up[pick] ? 'face' : 'reverse'].push(to - pick)
    }
  }
  for (const side of ['face', 'reverse'] as const) {
    expect(told[side].count).toBe(lengths[side].length)
    expect(told[side].longest).toBe(Math.max(...lengths[side]))
    expect(told[side].over).toBe(lengths[side].filter((length) => length > 3).length)
    expect(told[side].lengths.flatMap(({ length, count }) => Array.from({ length: count }, () => length))).toEqual(
      lengths[side].toSorted((a, b) => a - b),
    )
  }
  expect(told.places.every(({ from, to, length }) => to - from + 1 === length && length > 3)).toBe(true)
  expect(() => tellFloats(draft, weave(draft, turning), 0)).toThrow(RangeError)
})

test('tellFloats(draft, woven, limit) tells endless threads apart from long ones', () => {
  const { draft, turning } = one(1, -1)
  const told = tellFloats(draft, weave(draft, turning), 1)
  expect([told.face.endless, told.reverse.endless]).toEqual([1, 1])
  expect(told.face.longest).toBe(1)
  expect(told.places).toEqual([])
})

test('tellBriefly(draft, turning) gives seven lines, says what asks for a look, and none before the first pick', () => {
  const { draft, turning } = two([1, 1], [1, 1], [-1, 1], [-1, 1])
  const lines = tellBriefly(draft, turning)
  expect(lines.map(({ key, text }) => [key, text])).toEqual([
    ['twist', 'left in tablet 2'],
    ['furthest', '4 quarter turns forward, tablet 2 at pick 4'],
    ['floats', 'face 3 picks, reverse 3 picks'],
    ['handfuls', '1.5 in the mean, 2 packs'],
    ['changes', '0.5 tablets a pick in the mean'],
    ['picks', '2 of 4'],
    ['bits', '1 bit a pick, given the one before (n = 4)'],
  ])
  expect(lines.filter((line) => line.asksForLook).map(({ key }) => key)).toEqual(['twist'])
  expect(tellBriefly(draft, { tablets: 2, picks: 0, turns: new Int8Array() })).toEqual([])
  expect(() => tellBriefly(draft, turning, weave(draft, { tablets: 2, picks: 1, turns: Int8Array.of(1, 1) }))).toThrow(
    RangeError,
  )
})
