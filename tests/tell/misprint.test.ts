import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'
import { longestFloat } from '../../shared/draft/floats.ts'
import { isMirrorOf } from '../../shared/draft/tell/likeness.ts'
import { applyChange, listChanges } from '../../shared/draft/tell/misprint-change.ts'
import { findMisprints, type PropertyKey, type StatedProperties } from '../../shared/draft/tell/misprint.ts'
import { mirrorTablets } from '../../shared/draft/threading.ts'
import { closesAfter, isTwistNeutral } from '../../shared/draft/twist.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import type { Turning } from '../../shared/draft/woven.ts'
import { arbitraryTablet, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'

/** The second way: everything woven and looked at from the beginning. */
function holds(draft: Draft, turning: Turning, stated: StatedProperties): PropertyKey[] {
  const woven = weave(draft, turning)
  const { tablets, picks, turns } = turning
  const grid = colourGrid(draft, woven, 'face')
  const pairs = Array.from({ length: tablets >> 1 }, (_, left) => [left, tablets - 1 - left] as const)
  const float = longestFloat(draft, woven, { overSeam: true })
  const on = stated.face === 'glide' ? picks / 2 : 0
  const all: Record<PropertyKey, boolean> = {
    neutral: isTwistNeutral(woven),
    closes: closesAfter(woven) === 1,
    threading: pairs.every(([left, right]) => isMirrorOf(draft.tablets[left]!, draft.tablets[right]!)),
    turning: pairs.every(([left, right]) =>
      grid.every((_, pick) => turns[pick * tablets + left] === turns[pick * tablets + right]),
    ),
    floats: Math.max(float.face, float.reverse) <= (stated.longestFloat ?? 0),
    face: grid.every((row, pick) => row.toReversed().every((colour, at) => colour === grid[(pick + on) % picks]![at])),
  }
  const keys: PropertyKey[] = ['neutral', 'closes', 'threading', 'turning']
  return [
    ...keys.filter((key) => stated[key as 'neutral'] && all[key]),
    ...(stated.longestFloat !== undefined && all.floats ? (['floats'] as const) : []),
    ...(stated.face !== undefined && all.face ? (['face'] as const) : []),
  ]
}

const turn = fc.constantFrom(1, -1)

/** A symmetric neutral draft: mirrored threading, picks turned alike left and right, then undone from the end. */
const symmetricNeutral = fc
  .tuple(fc.integer({ min: 2, max: 5 }), fc.integer({ min: 2, max: 6 }))
  .chain(([half, picks]) =>
    fc.tuple(
      fc.array(arbitraryTablet, { minLength: half, maxLength: half }),
      fc.array(fc.array(turn, { minLength: half, maxLength: half }), { minLength: picks, maxLength: picks }),
    ),
  )
  .map(([tablets, left]) => {
    const rows = left.map((row) => [...row, ...row.toReversed()])
    const back = rows.toReversed().map((row) => row.map((one) => -one))
    return draftOf([...tablets, ...mirrorTablets(tablets)], [...rows, ...back])
  })

describe('findMisprints(draft, turning, stated)', () => {
  test('finds a planted turn first, in any symmetric neutral draft', () => {
    fc.assert(
      fc.property(symmetricNeutral, fc.nat(), fc.nat(), ({ draft, turning }, somePick, someTablet) => {
        const [pick, tablet] = [(somePick % turning.picks) + 1, (someTablet % turning.tablets) + 1]
        const was = turning.turns[(pick - 1) * turning.tablets + tablet - 1]!
        const planted = applyChange(draft, turning, { kind: 'turn', pick, tablet, was, now: -was })
        const { found, unmet } = findMisprints(planted.draft, planted.turning, { neutral: true, turning: true })
        expect(unmet).toEqual([
          { key: 'neutral', places: 1 },
          { key: 'turning', places: 1 },
        ])
        expect(found[0]!.change).toEqual({ kind: 'turn', pick, tablet, was: -was, now: was })
        expect(found[0]).toMatchObject({ met: 2, restored: ['neutral', 'turning'], broken: [] })
      }),
      { numRuns: 60 },
    )
  })

  test('finds a planted threading and a planted colour first', () => {
    const tablets = [makeTablet({ holes: ['m', 'm', 'w', 'w'] }), makeTablet({ holes: ['w', 'm', 'm', 'w'] })]
    const { draft, turning } = draftOf(
      [...tablets, ...mirrorTablets(tablets)],
      [
        [1, 1, 1, 1],
        [1, -1, -1, 1],
        [1, 1, 1, 1],
        [1, 1, 1, 1],
        [-1, 1, 1, -1],
        [1, 1, 1, 1],
      ],
    )
    const flipped = applyChange(draft, turning, { kind: 'threading', tablet: 2, was: 'S', now: 'Z' })
    const { found } = findMisprints(flipped.draft, turning, { threading: true, face: 'across' })
    // Either tablet of the pair may be the wrong one: nothing that was stated says which.
    expect(found.map(({ change }) => change)).toEqual([
      { kind: 'threading', tablet: 2, was: 'Z', now: 'S' },
      { kind: 'threading', tablet: 3, was: 'Z', now: 'S' },
    ])
    const painted = applyChange(draft, turning, { kind: 'colour', tablet: 3, hole: 'B', was: 'm', now: 'b2' })
    const search = findMisprints(painted.draft, turning, { threading: true, face: 'across' })
    expect(search.found[0]).toMatchObject({ met: 2, restored: ['threading', 'face'] })
    const best = search.found.filter(({ met }) => met === 2).map(({ change }) => change)
    expect(best).toContainEqual({ kind: 'colour', tablet: 3, hole: 'B', was: 'b2', now: 'm' })
    expect(best.every(({ kind, tablet }) => kind === 'colour' && (tablet === 2 || tablet === 3))).toBe(true)
  })

  test('lists exactly the single changes that weaving everything anew for each of them finds', () => {
    const some = fc.tuple(fc.array(arbitraryTablet, { minLength: 1, maxLength: 4 }), fc.integer({ min: 1, max: 4 }))
    const random = some.chain(([tablets, half]) =>
      fc
        .array(
          fc.array(fc.constantFrom(1, 1, -1, -1, 0, 2), { minLength: tablets.length, maxLength: tablets.length }),
          {
            minLength: 2 * half,
            maxLength: 2 * half,
          },
        )
        .map((turns) => draftOf(tablets, turns)),
    )
    const stated = fc.record({
      ...{ neutral: fc.boolean(), closes: fc.boolean(), threading: fc.boolean(), turning: fc.boolean() },
      longestFloat: fc.constantFrom(undefined, 2, 3, 5),
      face: fc.constantFrom(undefined, 'across' as const, 'glide' as const),
    })
    let compared = 0
    // Nearly right drafts are the interesting ones: a symmetric neutral draft with one or two cells changed.
    const spoilt = fc
      .tuple(symmetricNeutral, fc.array(fc.nat(), { minLength: 1, maxLength: 2 }))
      .map(([made, cells]) => {
        const turns = made.turning.turns.slice()
        for (const cell of cells) turns[cell % turns.length]! *= -1
        return { ...made, turning: { ...made.turning, turns } }
      })
    fc.assert(
      fc.property(fc.oneof(random, spoilt), stated, ({ draft, turning }, properties) => {
        const before = holds(draft, turning, properties)
        const expected = new Map<string, { met: number; faceChanges: number }>()
        const grid = colourGrid(draft, weave(draft, turning), 'face')
        for (let tablet = 1; tablet <= turning.tablets; tablet++) {
          for (const change of listChanges(draft, turning, tablet)) {
            const changed = applyChange(draft, turning, change)
            const after = holds(changed.draft, changed.turning, properties)
            if (after.length <= before.length) continue
            const now = colourGrid(changed.draft, weave(changed.draft, changed.turning), 'face')
            let faceChanges = 0
            grid.forEach((row, pick) =>
              row.forEach((colour, at) => {
                const isCell = change.kind === 'turn' && change.pick === pick + 1 && change.tablet === at + 1
                if (!isCell && colour !== now[pick]![at]) faceChanges++
              }),
            )
            expected.set(JSON.stringify(change), { met: after.length, faceChanges })
          }
        }
        const { found, more } = findMisprints(draft, turning, properties)
        expect(found.length + more).toBe(expected.size)
        compared += found.length
        for (const { change, met, faceChanges } of found) {
          expect({ met, faceChanges }).toEqual(expected.get(JSON.stringify(change)))
        }
        const order = found.map(({ met, faceChanges }) => met * 10_000 - faceChanges)
        expect(order).toEqual(order.toSorted((a, b) => b - a))
      }),
      { numRuns: 120 },
    )
    expect(compared).toBeGreaterThan(50)
  })

  test('counts the picks that the changed pick then equals', () => {
    const { draft, turning } = draftOf(
      [makeTablet(), makeTablet()],
      [
        [1, 1],
        [1, 1],
        [-1, 1],
        [-1, -1],
      ],
    )
    const { found } = findMisprints(draft, turning, { neutral: true })
    expect(found.map(({ change, equalPicks }) => [change.kind === 'turn' && change.pick, equalPicks])).toContainEqual([
      3, 1,
    ])
    expect(found.every(({ change }) => change.tablet === 2)).toBe(true)
  })

  test('finds nothing when all is true, when nothing is stated, and when it takes more than one change', () => {
    const right = draftOf([makeTablet()], [[1], [-1]])
    expect(findMisprints(right.draft, right.turning, { neutral: true })).toMatchObject({ unmet: [], found: [] })
    const wrong = draftOf(
      [makeTablet(), makeTablet()],
      [
        [1, 1],
        [1, 1],
      ],
    )
    expect(findMisprints(wrong.draft, wrong.turning, {})).toMatchObject({ stated: [], unmet: [], found: [] })
    expect(findMisprints(wrong.draft, wrong.turning, { neutral: true })).toMatchObject({
      unmet: [{ key: 'neutral', places: 2 }],
      found: [],
    })
  })

  test('refuses a glide over an odd number of picks, a float of 0, and too many picks', () => {
    const { draft, turning } = draftOf([makeTablet()], [[1], [1], [1]])
    expect(() => findMisprints(draft, turning, { face: 'glide' })).toThrow(RangeError)
    expect(() => findMisprints(draft, turning, { longestFloat: 0 })).toThrow(RangeError)
    const long = { tablets: 1, picks: 2001, turns: new Int8Array(2001).fill(1) }
    expect(() => findMisprints(draft, long, { neutral: true })).toThrow(RangeError)
  })
})
