import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'
import { withBorderPlan } from '../../shared/draft/border-turning.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { bandWindow } from '../../shared/loom/band-window.ts'
import { bordersAhead } from '../../shared/loom/borders-ahead.ts'
import { reckon } from '../../shared/loom/clock.ts'
import { newGate, taskOf, teach } from '../../shared/loom/key-map.ts'
import { aheadOf, nextInRepeat } from '../../shared/loom/place.ts'
import { type KeptStep, nextToSend, placeOfStep, pieceShelfOf, isStepName, waitMs } from '../../shared/loom/queue.ts'
import { latestOf, mergeSteps, type Placed } from '../../shared/loom/step.ts'
import { rememberedOf, sayRemembered } from '../../shared/loom/remembered.ts'
import { OUR_TELLING, runsOf, sayPacks, toReader, toReadersPacks } from '../../shared/loom/told-pick.ts'
import { type LoomFacts, loomOf, viewAt } from '../../shared/loom/view.ts'
import { netAt, rowAt, stretchOf, weavingOf } from '../../shared/loom/weaving.ts'
import { arbitraryDraft } from '../draft/arbitrary-draft.ts'

const HOLES = ['m', 'm', 'w', 'w'] as const
/** Four tablets, the outer ones borders that turn forward at every pick. */
const FRET: Draft = {
  title: 'Fret',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: (['border', 'pattern', 'pattern', 'border'] as const).map((part, at) => ({
    ...{ part, holes: HOLES, start: 'A' as const },
    threading: at < 2 ? ('S' as const) : ('Z' as const),
  })),
  picks: ['4F', '1F 2B 1F', '1F 1I 2F'],
}
const FACTS: LoomFacts = {
  ...{ piece: { uid: 'a'.repeat(32), name: 'Belt' }, revision: { id: 1, number: 1, title: 'Fret' }, draft: FRET },
  ...{ way: 'drafted', reversals: [], telling: OUR_TELLING, goal: null, warp: null, latest: null },
}

const placed = fc.record({
  uid: fc.stringMatching(/^[0-9a-f]{32}$/),
  place: fc.nat(1000),
  at: fc.integer({ min: 0, max: 50 }).map((ms) => new Date(ms).toISOString()),
})

describe('steps', () => {
  test('mergeSteps(histories) is the same whatever order they come in, holds each once, and ends with latestOf', () => {
    fc.assert(
      fc.property(fc.array(placed, { maxLength: 20 }), fc.array(placed, { maxLength: 20 }), (one, other) => {
        const merged = mergeSteps(one, other)
        const uids = new Map<string, Placed>([...one, ...other].map((step) => [step.uid, step]))
        expect(merged.length).toBe(uids.size)
        expect(mergeSteps(merged, one.toReversed(), other).map(({ uid }) => uid)).toEqual(merged.map(({ uid }) => uid))
        expect(latestOf(merged)?.uid).toBe(merged.at(-1)?.uid)
      }),
      { numRuns: 200 },
    )
  })

  test('latestOf(steps) goes by the instant, and by the uid within a millisecond', () => {
    const at = '2026-11-24T09:00:00.000Z'
    expect(latestOf([])).toBeUndefined()
    expect(
      latestOf([
        { uid: 'b', place: 2, at },
        { uid: 'a', place: 9, at },
      ])?.place,
    ).toBe(2)
    expect(
      latestOf([
        { uid: 'a', place: 3, at: '2026-11-24T09:00:00.001Z' },
        { uid: 'b', place: 2, at },
      ])?.place,
    ).toBe(3)
  })
})

describe('reckon(steps, sent, received, floor)', () => {
  const step = (seq: number, deviceMs: number, afterMs?: number) => ({ seq, deviceMs, afterMs })

  test.each([
    ['a device that is right', [step(1, 1000), step(2, 2000)], 3000, 3010, undefined, [1000, 2000]],
    ['one 60 s behind', [step(1, 1000)], 2000, 62_000, undefined, [61_000]],
    ['one 4 s off is believed', [step(1, 1000)], 2000, 6000, undefined, [1000]],
    ['nothing lies in the future', [step(1, 9000), step(2, 9500)], null, 5000, undefined, [4999, 5000]],
    ['nothing before the device’s last step', [step(3, 1000), step(4, 1001)], 1002, 2000, 1500, [1501, 1502]],
    ['nothing before what was known', [step(1, 1000, 1700)], 1002, 2000, undefined, [1701]],
    ['a clock put back an hour in between', [step(1, 3_601_000), step(2, 2000)], 3000, 3000, undefined, [1999, 2000]],
  ])('%s', (_what, steps, sent, received, floor, expected) => {
    expect(reckon(steps, sent ?? undefined, received, floor)).toEqual(expected)
  })

  test('keeps the order of the device’s numbers, whatever its clock says', () => {
    const ms = fc.integer({ min: -1e7, max: 1e7 })
    fc.assert(
      fc.property(fc.array(ms, { minLength: 1, maxLength: 30 }), fc.option(ms), ms, (device, sent, received) => {
        const at = reckon(
          device.map((deviceMs, index) => step(index + 1, deviceMs)),
          sent ?? undefined,
          received,
          undefined,
        )
        expect(at.every((each, index) => index === 0 || each > at[index - 1]!)).toBe(true)
        expect(Math.max(...at)).toBeLessThanOrEqual(received)
      }),
      { numRuns: 300 },
    )
  })
})

describe('place', () => {
  test('nextInRepeat(72, 72) is the first pick of the second repeat', () => {
    expect(nextInRepeat(72, 72)).toEqual({ repeat: 2, pick: 1 })
    expect(nextInRepeat(0, 72)).toEqual({ repeat: 1, pick: 1 })
    expect(() => nextInRepeat(-1, 72)).toThrow(RangeError)
  })

  test('aheadOf(70, 72, 144) has 74 picks, a whole repeat and 2; beyond the end less than none', () => {
    expect(aheadOf(70, 72, 144)).toMatchObject({ picks: 74, repeats: 1, rest: 2 })
    expect(aheadOf(150, 72, 144)).toMatchObject({ picks: -6, repeats: 0, rest: 0, share: 1 })
  })
})

describe('a pick as it is told', () => {
  test('runsOf(row) counts from tablet 1', () => {
    expect(runsOf(Int8Array.of(1, 1, -1, 0, 2, -2)).map(({ count, turn }) => `${count}${turn}`)).toEqual([
      ...['2F', '1B', '1I', '12F', '12B'],
    ])
  })

  test('toReader(row, telling) for a reader at the bare warp who counts from the left', () => {
    // Their left is our right; what goes away from us comes towards them.
    const telling = { turnSign: -1, reversesTablets: true, from: 'left' } as const
    expect([...toReader(Int8Array.of(1, 1, -1), telling)]).toEqual([1, -1, -1])
  })

  test('sayPacks(row, packs) names packs by their numbers, and says nothing where there is but one', () => {
    expect(sayPacks(Int8Array.of(1, 1, -1), [[1, 2], [3]])).toBe('Pack 1 forward, pack 2 back')
    expect(sayPacks(Int8Array.of(1, -1, 1), [[1], [2], [3]])).toBe('Packs 1, 3 forward, pack 2 back')
    expect(sayPacks(Int8Array.of(1, 1), [[1, 2]])).toBe('')
    const reversed = { turnSign: 1, reversesTablets: true, from: 'right' } as const
    expect(
      toReadersPacks(
        [
          [1, 4],
          [2, 3],
        ],
        4,
        reversed,
      ),
    ).toEqual([
      [1, 4],
      [2, 3],
    ])
    expect(toReadersPacks([[1], [2, 3]], 3, reversed)).toEqual([[1, 2], [3]])
  })

  test('viewAt(loom, place) says pick, repeat, the way to the end and the next two picks', () => {
    const view = viewAt(loomOf({ ...FACTS, goal: 9 }), 4)
    expect(view).toMatchObject({ pick: 2, pickWords: 'of 3', repeatWords: 'Repeat 2 of 3', ahead: '5 picks to go' })
    expect(view.next).toEqual([
      { number: '3', runs: '1F 1I 2F' },
      { number: '1', runs: '4F' },
    ])
    expect(viewAt(loomOf(FACTS), 4).ahead).toBe('')
    expect(viewAt(loomOf({ ...FACTS, goal: 3 }), 4).ahead).toBe('1 pick beyond the plan')
  })

  test('sayRemembered(remembered, loom, place) says the pick in its fewest words', () => {
    const loom = loomOf(FACTS)
    expect(sayRemembered(rememberedOf(loom), loom, 0)).toContain('All forward.')
  })
})

describe('the weaving of a piece', () => {
  test('netAt(weaving, place) is the sum of its rows', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.nat(40), fc.array(fc.nat(30), { maxLength: 4 }), ({ draft }, place, reversals) => {
        const weaving = weavingOf(draft, 'reverse', reversals)
        const sum = new Int32Array(draft.tablets.length)
        for (let at = 0; at < place; at++)
          for (const [tablet, turn] of rowAt(weaving, at).entries()) sum[tablet]! += turn
        expect([...netAt(weaving, place)]).toEqual([...sum])
      }),
      { numRuns: 150 },
    )
  })

  test('stretchOf(weaving, from, to) weaves what the whole weaves there', () => {
    fc.assert(
      fc.property(
        arbitraryDraft,
        fc.integer({ min: 0, max: 20 }),
        fc.integer({ min: 1, max: 8 }),
        ({ draft }, from, long) => {
          const whole = withBorderPlan(draft, from + long, [3, 7])
          const all = weave(whole, turningOf(whole))
          const part = stretchOf(weavingOf(draft, 'reverse', [7, 3]), from, from + long)
          const woven = weave(part.draft, part.turning)
          const { tablets } = all
          const begin = from * tablets
          expect(woven.topNear).toEqual(all.topNear.slice(begin, begin + long * tablets))
          // Until a tablet has turned, a stretch cannot know what shows.
          for (let cell = 0; cell < long * tablets; cell++)
            if (woven.face[cell] !== -1) expect(woven.face[cell]).toBe(all.face[begin + cell])
        },
      ),
      { numRuns: 150 },
    )
  })

  test('borders that were turned over are turned on the same way, and twine the other', () => {
    const weaving = weavingOf(FRET, 'flip', [2])
    expect([...rowAt(weaving, 3)]).toEqual([1, 1, 1, 1])
    expect([...netAt(weaving, 4)]).toEqual([0, 1, 2, 0])
  })

  test('bordersAhead(weaving, place, warp): 9 turns after 36 picks, reversed by the plan after 40', () => {
    const weaving = weavingOf(FRET, 'reverse', [40])
    const warp = { bareMm: 1000, pickMm: 1, warpPerWoven: 1 }
    const ahead = bordersAhead(weaving, 36, warp)
    expect(ahead).toMatchObject({
      hasBorders: true,
      reversesAfter: 40,
      isPlanned: true,
      twist: { tablet: 1, turns: 9 },
    })
    // 9 turns in the 0.964 m that are left.
    expect(ahead.twist.perM).toBeCloseTo(9 / 0.964, 9)
    expect(bordersAhead(weaving, 40, warp).reversesAfter).toBe(40)
    expect(bordersAhead(weaving, 41, warp).reversesAfter).toBeNull()
  })

  test('bordersAhead finds the reversal that the draft itself has', () => {
    const turns = { ...FRET, picks: ['4F', '4F', '1B 2F 1B', '1B 2F 1B'] }
    expect(bordersAhead(weavingOf(turns, 'drafted', []), 1, null)).toMatchObject({ reversesAfter: 2, isPlanned: false })
    expect(bordersAhead(weavingOf(turns, 'drafted', []), 3, null).reversesAfter).toBe(4)
  })

  test('bandWindow(weaving, place, shown) draws the pick to come above the fell, at the very first too', () => {
    const weaving = weavingOf(FRET, 'drafted', [])
    for (const place of [0, 1, 7, 300]) {
      const svg = bandWindow(weaving, place, 12, 'w')
      expect(svg).toContain('class="loom-next"')
      expect(svg).toContain(place === 0 ? 'Nothing is woven yet' : `of ${place} picks woven`)
    }
  })
})

describe('keys', () => {
  const none = { next: [], back: [] }

  test('pedals turn pages: PageDown is next, PageUp is back; a taught key comes first', () => {
    expect([taskOf('PageDown', none), taskOf('PageUp', none), taskOf('F5', none)]).toEqual(['next', 'back', undefined])
    const taught = teach(teach(none, 'next', 'F5'), 'back', 'PageDown')
    expect([taskOf('F5', taught), taskOf('PageDown', taught)]).toEqual(['next', 'back'])
    expect(teach(taught, 'back', 'F5')).toEqual({ next: [], back: ['PageDown', 'F5'] })
  })

  test('newGate() lets no held key through, and nothing within 250 ms', () => {
    const gate = newGate()
    expect([gate(0, true), gate(1, false), gate(250, false), gate(251, false), gate(400, true)]).toEqual([
      ...[false, true, false, true, false],
    ])
  })
})

describe('the queue', () => {
  const step = (seq: number, uid: string) => ({ seq, uid }) as KeptStep

  test('nextToSend(steps) takes the oldest 200', () => {
    const steps = Array.from({ length: 300 }, (_, at) => step(300 - at, `${at}`))
    const sent = nextToSend(steps)
    expect([sent.length, sent[0]?.seq, sent.at(-1)?.seq]).toEqual([200, 1, 200])
  })

  test('each step has a place of its own, that is known as one', () => {
    const shelf = pieceShelfOf('/bands/', 'a'.repeat(32), 3)
    const name = placeOfStep(shelf, step(12, 'b'.repeat(32)))
    expect(name.startsWith(shelf)).toBe(true)
    expect([isStepName(name), isStepName(`${shelf}last`)]).toEqual([true, false])
    expect(placeOfStep(shelf, step(12, 'c'.repeat(32)))).not.toBe(name)
  })

  test('waitMs(failures) doubles from a second to a minute', () => {
    expect([1, 2, 3, 7, 40].map(waitMs)).toEqual([1000, 2000, 4000, 60_000, 60_000])
  })
})
