import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ASPECTS, SPOTS, type Aspect } from '../../shared/fidelity/aspect.ts'
import { hangsOnWeights, rankBy } from '../../shared/fidelity/ranking.ts'
import { RELATION_BOUNDS, RELATIONS } from '../../shared/fidelity/relation.ts'
import { boundsByAspect, EQUAL_WEIGHTS, totalOf, type Judged, type Weights } from '../../shared/fidelity/total.ts'

const judged = fc
  .array(fc.record({ spot: fc.constantFrom(...SPOTS), relation: fc.constantFrom(...RELATIONS) }), { maxLength: 20 })
  .map((all) => [...new Map(all.map(({ spot, relation }) => [JSON.stringify(spot), { ...spot, relation }])).values()])
const weights = fc
  .tuple(...ASPECTS.map(() => fc.nat(100)))
  .filter((all) => all.some((one) => one > 0))
  .map((all) => Object.fromEntries(ASPECTS.map((aspect, at) => [aspect, all[at]!])) as unknown as Weights)

const whole = (aspect: Aspect, relation: Judged['relation']): Judged => ({ aspect, place: 'whole', relation })
const only = (aspect: Aspect): Weights => ({
  ...(Object.fromEntries(ASPECTS.map((one) => [one, 0])) as unknown as Weights),
  [aspect]: 1,
})

describe('totalOf', () => {
  test('is 0 to 1 where nothing is judged, and all of the weight is open', () => {
    expect(totalOf([], EQUAL_WEIGHTS)).toMatchObject({ low: 0, high: 1, openShare: 1 })
  })

  test('takes what is unknown once as worst and once as best', () => {
    const total = totalOf([whole('tools', 'same'), whole('finishing', 'unknowable')], {
      ...only('tools'),
      finishing: 3,
    })
    expect(total).toMatchObject({ low: 0.25, high: 1, openShare: 0.75 })
  })

  test('takes the mean over warp and weft', () => {
    const part = boundsByAspect([
      { aspect: 'fibre', place: 'warp', relation: 'same' },
      { aspect: 'fibre', place: 'weft', relation: 'substituted' },
    ])[0]
    expect(part).toEqual({ aspect: 'fibre', low: 0.5, high: 0.75, n: 2, of: 2 })
  })

  test('lies between its bounds, whatever every open judgement turns out to be', () => {
    fc.assert(
      fc.property(judged, weights, fc.infiniteStream(fc.constantFrom(...RELATIONS.slice(0, 3))), (all, by, guess) => {
        const total = totalOf(all, by)
        expect(total.low).toBeLessThanOrEqual(total.high)
        const decided = all.map((one) => {
          const { low, high } = RELATION_BOUNDS[one.relation]
          return low === 0 && high === 1 ? { ...one, relation: guess.next().value as Judged['relation'] } : one
        })
        const after = totalOf(decided, by)
        expect(after.low).toBeGreaterThanOrEqual(total.low - 1e-12)
        expect(after.high).toBeLessThanOrEqual(total.high + 1e-12)
      }),
      { numRuns: 200 },
    )
  })

  test('hangs on the proportions of the weights alone', () => {
    fc.assert(
      fc.property(judged, weights, (all, by) => {
        const tenfold = Object.fromEntries(ASPECTS.map((aspect) => [aspect, 10 * by[aspect]])) as unknown as Weights
        expect(totalOf(all, tenfold).low).toBeCloseTo(totalOf(all, by).low, 12)
        expect(totalOf(all, tenfold).high).toBeCloseTo(totalOf(all, by).high, 12)
      }),
      { numRuns: 100 },
    )
  })

  test('refuses weights of which none counts, and negative ones', () => {
    expect(() => totalOf([], { ...only('dye'), dye: 0 })).toThrow('at least one above zero')
    expect(() => totalOf([], { ...only('dye'), tools: -1 })).toThrow('weights.tools must be zero or more, not -1')
  })
})

describe('rankBy', () => {
  const all = (relation: Judged['relation']) => ASPECTS.map((aspect) => whole(aspect, relation))

  test('says that no weights change the order where one is nearer in every aspect', () => {
    const ranks = rankBy(
      [
        { key: 'far', judged: all('substituted') },
        { key: 'near', judged: all('same') },
      ],
      EQUAL_WEIGHTS,
    )
    expect(ranks.map(({ key, toNext }) => [key, toNext])).toEqual([
      ['near', 'always'],
      ['far', null],
    ])
  })

  test('says that the order is sure by these weights, where another aspect would turn it', () => {
    const one = [...all('same').filter(({ aspect }) => aspect !== 'dye'), whole('dye', 'substituted')]
    const two = [...all('substituted').filter(({ aspect }) => aspect !== 'dye'), whole('dye', 'same')]
    const pieces = [
      { key: 'one', judged: one },
      { key: 'two', judged: two },
    ]
    expect(rankBy(pieces, EQUAL_WEIGHTS)[0]).toMatchObject({ key: 'one', toNext: 'underThese' })
    const turned = hangsOnWeights(pieces, [
      { name: 'alike', weights: EQUAL_WEIGHTS },
      { name: 'dye alone', weights: only('dye') },
    ])
    expect(turned).toEqual([{ pair: ['one', 'two'], before: ['alike'], after: ['dye alone'] }])
  })

  test('leaves open what overlaps', () => {
    const pieces = [
      { key: 'one', judged: all('near') },
      { key: 'two', judged: all('unknowable') },
    ]
    expect(rankBy(pieces, EQUAL_WEIGHTS)[0]).toMatchObject({ key: 'one', toNext: 'open' })
  })

  test('never says that an order stands always which some weights turn', () => {
    fc.assert(
      fc.property(judged, judged, weights, weights, (first, second, by, other) => {
        const pieces = [
          { key: 'a', judged: first },
          { key: 'b', judged: second },
        ]
        const [rank] = rankBy(pieces, by)
        if (rank!.toNext !== 'always') return
        const turned = rankBy(pieces, other)
        const sumOf = (key: string) => {
          const { low, high } = turned.find((one) => one.key === key)!.total
          return low + high
        }
        expect(sumOf(rank!.key)).toBeGreaterThanOrEqual(sumOf(rank!.key === 'a' ? 'b' : 'a') - 1e-12)
      }),
      { numRuns: 300 },
    )
  })
})
