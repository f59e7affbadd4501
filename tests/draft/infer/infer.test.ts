import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { HOLES, type Tablet } from '../../../shared/draft/draft.ts'
import { inferDraft, inferSteps, type Inference } from '../../../shared/draft/infer/infer.ts'
import { UNKNOWN_TABLET } from '../../../shared/draft/infer/known-text.ts'
import type { ObservedFace, ObservedSlant } from '../../../shared/draft/infer/observed.ts'
import type { InferRequest, KnownTablet, Requirements } from '../../../shared/draft/infer/request.ts'
import { reportDraft } from '../../../shared/draft/report.ts'
import { COLOURS } from '../arbitrary-draft.ts'
import { listFillings, tryAll, type Tried } from './brute-force.ts'
import { countPlainly } from './plain-count.ts'

const requirements: Requirements[] = [undefined, 1, 2, 3, 4].flatMap((longestFloat) =>
  [{}, { closes: true }, { twistNeutral: true }, { closes: true, twistNeutral: true }].map((rest) => ({
    ...rest,
    ...(longestFloat === undefined ? {} : { longestFloat }),
  })),
)

const colour = fc.constantFrom('m', 'w', 'b2')
const hole = fc.constantFrom('m', 'm', 'w', 'w', 'b2', null)
const tablet = (holes: fc.Arbitrary<Tablet['holes'] | null>): fc.Arbitrary<KnownTablet> =>
  fc.record({
    threading: fc.constantFrom('S' as const, 'Z' as const),
    holes,
    start: fc.constantFrom(null, null, ...HOLES),
    part: fc.constant('pattern' as const),
  })
const column = <T>(picks: number, one: fc.Arbitrary<T>) => fc.array(one, { minLength: picks, maxLength: picks })
const faceOf = (picks: number, slant: fc.Arbitrary<ObservedSlant | null>): fc.Arbitrary<ObservedFace> =>
  fc
    .tuple(column(picks, fc.oneof(colour, fc.constant(null))), column(picks, slant))
    .map(([cells, slants]) => ({ cells: cells.map((one) => [one]), slants: slants.map((one) => [one]) }))
const anySlant = fc.constantFrom(null, null, null, '/' as const, '\\' as const)

const oneTablet = (known: fc.Arbitrary<KnownTablet>, slant: fc.Arbitrary<ObservedSlant | null>, most: number) =>
  fc.integer({ min: 1, max: most }).chain((picks) =>
    fc.record({
      colours: fc.constant(COLOURS),
      tablets: known.map((one) => [one]),
      observed: faceOf(picks, slant),
      require: fc.constantFrom(...requirements),
    }),
  )

function inferred(request: InferRequest): Inference {
  const result = inferDraft(request, '')
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.inference
}

/** Everything that the finding says of tablet 1 must be what trying everything says. */
function expectSame(request: InferRequest, tried: Tried | undefined) {
  const result = inferDraft(request, '')
  if (!tried)
    return void expect(result).toMatchObject({ ok: false, problems: [{ message: expect.any(String) as string }] })
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  const { perTablet, draft, mismatches } = result.inference
  const [found] = perTablet
  const { best } = tried
  expect(found).toMatchObject({
    ...{ mismatches: tried.mismatches, reversals: tried.reversals, solutions: String(best.length) },
    turnDiffers: differing(best.map(({ turns }) => turns)),
    colourDiffers: differing(best.map(({ face }) => face)),
  })
  expect(mismatches).toHaveLength(tried.mismatches)
  const report = reportDraft(draft)
  expect(report.reversals).toEqual([tried.reversals])
  if (request.require.twistNeutral) expect(report.twistNeutral).toBe(true)
  if (request.require.closes) expect(report.closesAfter).toBe(1)
  const { longestFloat = Infinity } = request.require
  expect(Math.max(report.longestFloat.face, report.longestFloat.reverse)).toBeLessThanOrEqual(longestFloat)
  expect(found!.decides).toEqual(bestLook(request, tried))
}

function differing(rows: readonly (readonly unknown[])[]): number[] {
  return rows[0]!.flatMap((one, pick) => (rows.every((row) => row[pick] === one) ? [] : [pick + 1]))
}

function bestLook({ observed, tablets }: InferRequest, { best }: Tried) {
  const looks = observed.cells.flatMap((row, pick) => [
    ...(row[0] === null ? [{ pick: pick + 1, of: 'colour', leaves: most(best.map(({ face }) => face[pick])) }] : []),
    ...(!observed.slants?.[pick]?.[0] && tablets[0]!.threading
      ? [{ pick: pick + 1, of: 'slant', leaves: most(best.map(({ slants }) => slants[pick])) }]
      : []),
  ])
  const order = (of: string) => (of === 'colour' ? 0 : 1)
  const [first] = looks.sort((a, b) => a.leaves - b.leaves || order(a.of) - order(b.of) || a.pick - b.pick)
  return first && first.leaves < best.length ? { ...first, leaves: String(first.leaves) } : null
}

function most(values: readonly unknown[]): number {
  return Math.max(...values.map((value) => values.filter((other) => other === value).length))
}

describe('inferDraft(request, title)', () => {
  test('says of any face, noise and gaps and slants in it, what trying every turning says', () => {
    const holes = fc.tuple(hole, hole, hole, hole)
    fc.assert(
      fc.property(oneTablet(tablet(holes), anySlant, 8), fc.constantFrom(undefined, 'm'), (drawn, weft) => {
        const request: InferRequest = weft ? { ...drawn, weft } : drawn
        const { holes, threading } = request.tablets[0]!
        const picks = request.observed.cells.length
        if (picks % 2 === 1 && (request.require.closes || request.require.twistNeutral)) return
        expectSame(request, tryAll(request, 0, holes!, threading!))
      }),
      { numRuns: 400 },
    )
  })

  test('finds unknown holes as good as the best of all fillings, and counts for those that it returns', () => {
    const unknown = tablet(fc.constant(null))
    fc.assert(
      fc.property(oneTablet(unknown, anySlant, 6), fc.boolean(), (request, slanted) => {
        const observed = slanted ? request.observed : { cells: request.observed.cells }
        const asked: InferRequest = { ...request, observed }
        const picks = observed.cells.length
        if (picks % 2 === 1 && (request.require.closes || request.require.twistNeutral)) return
        const { threading } = request.tablets[0]!
        const all = listFillings(['m', 'w', 'b2']).flatMap((holes) => tryAll(asked, 0, holes, threading!) ?? [])
        const result = inferDraft(asked, '')
        if (all.length === 0) return void expect(result.ok).toBe(false)
        const cost = ({ mismatches, reversals }: Tried) => mismatches * 100 + reversals
        const least = Math.min(...all.map(cost))
        expectSame(asked, tryAll(asked, 0, inferred(asked).draft.tablets[0]!.holes, threading!))
        expect(inferred(asked).perTablet[0]!.mismatches * 100 + inferred(asked).perTablet[0]!.reversals).toBe(least)
      }),
      { numRuns: 60 },
    )
  })

  test('finds an unknown threading where slants tell it, and says so where they do not', () => {
    const known = { ...UNKNOWN_TABLET, holes: ['m', 'w', 'b2', 'm'], start: 'A' } as const
    // Forward three times shows A B C; with Z threading each stitch leans "\".
    const cells = [['m'], ['w'], ['b2']]
    const leaning = inferred({
      ...{ colours: COLOURS, tablets: [known], require: {} },
      observed: { cells, slants: [[null], ['\\'], [null]] },
    })
    expect(leaning.draft.tablets[0]!.threading).toBe('Z')
    expect(leaning.perTablet[0]!.threadingIsOpen).toBe(false)
    const bare = inferred({ colours: COLOURS, tablets: [known], observed: { cells }, require: {} })
    expect(bare.draft.tablets[0]!.threading).toBe('S')
    expect(bare.perTablet[0]).toMatchObject({ threadingIsOpen: true, decides: null, solutions: '1' })
  })
})

/** A band that somebody planned: quarter turns only, every tablet neutral, holes of its own. */
const planted = fc
  .record({ tablets: fc.integer({ min: 1, max: 5 }), half: fc.integer({ min: 1, max: 20 }) })
  .chain(({ tablets, half }) =>
    fc.tuple(
      fc.array(
        fc.tuple(
          fc.tuple(hole, hole, hole, hole),
          fc.constantFrom(...HOLES),
          fc.constantFrom('S' as const, 'Z' as const),
        ),
        {
          minLength: tablets,
          maxLength: tablets,
        },
      ),
      fc.array(fc.shuffledSubarray([...Array(2 * half).keys()], { minLength: half, maxLength: half }), {
        minLength: tablets,
        maxLength: tablets,
      }),
      fc.constant(2 * half),
    ),
  )

describe('inferDraft(request, title) of a planted draft', () => {
  test('explains every noise-free face without a mismatch, whatever is known and required', () => {
    fc.assert(
      fc.property(planted, fc.integer({ min: 0, max: 7 }), ([threaded, backs, picks], mask) => {
        const tablets: Tablet[] = threaded.map(([holes, start, threading]) => ({
          holes,
          start,
          threading,
          part: 'pattern',
        }))
        const lines = Array.from({ length: picks }, (_, pick) =>
          backs.map((back) => (back.includes(pick) ? '1B' : '1F')).join(' '),
        )
        const report = reportDraft({ title: '', colours: COLOURS, weft: 'm', tablets, picks: lines })
        const observed: ObservedFace = {
          cells: report.face,
          slants: report.slant.map((row) => [...row] as ObservedSlant[]),
        }
        const longest = Math.max(report.longestFloat.face, report.longestFloat.reverse, 1)
        const known = tablets.map((one) => ({
          ...one,
          // An empty hole cannot be found out from colours.
          holes: mask & 1 || one.holes.includes(null) ? one.holes : null,
          start: mask & 2 ? one.start : null,
        }))
        for (const require of [{}, { closes: true }, { twistNeutral: true, longestFloat: longest }]) {
          const request = {
            colours: COLOURS,
            tablets: known,
            observed: mask & 4 ? observed : { cells: report.face },
            require,
          }
          const found = inferred(request)
          expect(found.mismatches).toEqual([])
          const woven = reportDraft(found.draft)
          report.face.forEach((row, pick) =>
            row.forEach((key, at) => key === null || expect(woven.face[pick]![at]).toBe(key)),
          )
          found.perTablet.forEach(({ reversals }, at) => expect(reversals).toBeLessThanOrEqual(report.reversals[at]!))
        }
      }),
      { numRuns: 60 },
    )
  })

  test('counts beyond what a number holds', () => {
    // Forty times the slant that is seen turns over, with three picks between that cannot be read: the reversal may stand
    // in four places each time, and each place goes with each of the others.
    const slants = Array.from({ length: 161 }, (_, pick) => [
      pick % 4 ? null : pick % 8 ? ('\\' as const) : ('/' as const),
    ])
    const known: KnownTablet = { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'pattern' }
    const { perTablet } = inferred({
      colours: COLOURS,
      tablets: [known],
      observed: { cells: slants.map(() => [null]), slants },
      require: {},
    })
    expect(perTablet[0]).toMatchObject({ mismatches: 0, reversals: 40, solutions: String(4n ** 40n) })
  })

  test('tells how far it is after every tablet, and can be left there', () => {
    const observed = { cells: [['m', 'm', 'w']] }
    const tablets = [UNKNOWN_TABLET, UNKNOWN_TABLET, UNKNOWN_TABLET]
    const steps = inferSteps({ colours: COLOURS, tablets, observed, require: {} }, '')
    expect(steps.next()).toEqual({ done: false, value: { done: 1, tablets: 3 } })
    expect(steps.next()).toEqual({ done: false, value: { done: 2, tablets: 3 } })
  })
})

describe('inferDraft(request, title) of a long repeat', () => {
  /** A face of noise alone: nothing in it can be explained well, and much of it in many ways. */
  const noise = (picks: number) =>
    fc.record({
      cells: column(picks, fc.constantFrom('m', 'm', 'w', 'w', null)),
      slants: column(picks, fc.constantFrom(null, null, null, null, '/' as const, '\\' as const)),
      holes: fc.constantFrom<Tablet['holes']>(['m', 'm', 'w', 'w'], ['m', 'w', 'm', 'w'], ['m', 'm', 'm', 'w']),
      start: fc.constantFrom(null, 'B' as const),
      require: fc.constantFrom(...requirements.filter(({ longestFloat = 3 }) => longestFloat > 2)),
    })

  interface Face {
    readonly cells: readonly (string | null)[]
    readonly slants: readonly (ObservedSlant | null)[]
    readonly holes: Tablet['holes']
    readonly start: KnownTablet['start']
    readonly require: Requirements
  }
  const requestOf = ({ cells, slants, holes, start, require }: Face): InferRequest => ({
    ...{ colours: COLOURS, require },
    tablets: [{ threading: 'S', holes, start, part: 'pattern' }],
    observed: { cells: cells.map((one) => [one]), slants: slants.map((one) => [one]) },
  })

  test('counts as going through every state does', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 30, max: 70 }).chain((half) => noise(2 * half)),
        (face) => {
          const request = requestOf(face)
          const { solutions, ...least } = countPlainly(request, 0)!
          expect(inferred(request).perTablet[0]).toMatchObject({ ...least, solutions: String(solutions) })
        },
      ),
      { numRuns: 40 },
    )
  })

  test('counts neutral turnings beyond what a number holds', () => {
    // What must be neutral and shows nothing but a slant now and then, forward and back by turns.
    const slants = Array.from({ length: 240 }, (_, pick) =>
      pick % 6 ? null : pick % 12 ? ('\\' as const) : ('/' as const),
    )
    const request = requestOf({
      ...{ slants, cells: slants.map(() => null), holes: ['m', 'm', 'w', 'w'], start: null },
      require: { twistNeutral: true },
    })
    const { solutions, ...least } = countPlainly(request, 0)!
    expect(solutions).toBeGreaterThan(2n ** 64n)
    expect(inferred(request).perTablet[0]).toMatchObject({ ...least, solutions: String(solutions) })
  })

  test('works on the longest repeat there is, whatever is wished', () => {
    // Every hole has its own colour, so nothing explains it better than the planted turning: 3 forward, 3 back, over and over.
    const picks = 19_998
    let stand = 0
    const cells = Array.from({ length: picks }, (_, pick) => {
      const turn = pick % 6 < 3 ? 1 : -1
      const shown = 'mwbo'[turn === 1 ? stand : (stand + 3) & 3]!
      stand = (stand + turn) & 3
      // A cell in the middle of three is misread now and then.
      return [pick % 996 === 4 ? (shown === 'm' ? 'w' : 'm') : shown]
    })
    const colours = { m: COLOURS.m!, w: COLOURS.w!, b: COLOURS.m!, o: COLOURS.w! }
    const tablets: KnownTablet[] = [{ threading: 'S', holes: ['m', 'w', 'b', 'o'], start: 'A', part: 'pattern' }]
    for (const require of [{}, { closes: true }, { twistNeutral: true, longestFloat: 3 }]) {
      const request = { colours, tablets, observed: { cells }, require }
      expect(inferred(request).perTablet[0]).toMatchObject({ mismatches: 21, reversals: 6665 })
    }
  })
})

describe('inferDraft(request, title) refuses', () => {
  const face = (picks: number) => ({ cells: Array.from({ length: picks }, () => ['m']) })
  const base = { colours: COLOURS, tablets: [UNKNOWN_TABLET] }

  test.each([
    [
      { ...base, observed: face(3), require: { twistNeutral: true } },
      'require.twistNeutral',
      'No turning of 3 picks is twist-neutral',
    ],
    [{ ...base, observed: face(1), require: { closes: true } }, 'require.closes', 'No turning of 1 pick closes'],
    [
      { ...base, observed: face(4), require: { longestFloat: 1 } },
      'require',
      'Tablet 1: no turning of 4 picks has no float over 1 pick.',
    ],
    [
      { ...base, observed: face(4), require: { longestFloat: 2, twistNeutral: true } },
      'require',
      'Tablet 1: no turning of 4 picks is twist-neutral and has no float over 2 picks.',
    ],
    [
      { ...base, observed: face(4), require: { longestFloat: 0 } },
      'require.longestFloat',
      'The longest float is a whole number',
    ],
    [
      { ...base, tablets: [], observed: face(2), require: {} },
      'tablets',
      'The observed face has 1 tablets, but 0 are described.',
    ],
    [{ ...base, observed: { cells: [['q']] }, require: {} }, 'observed[0][0]', 'No colour has the key “q”.'],
    [
      { ...base, observed: { cells: [['m'], []] }, require: {} },
      'observed',
      'observed.cells[1] must have 1 tablets, got 0.',
    ],
    [{ ...base, weft: 'x', observed: face(2), require: {} }, 'weft', 'No colour has the key “x”.'],
  ])('%j with its path', (request, path, message) => {
    const result = inferDraft(request, '')
    expect(result.ok).toBe(false)
    expect(!result.ok && result.problems[0]).toEqual({ path, message: expect.stringContaining(message) as string })
  })
})
