import fc from 'fast-check'
import { expect, test } from 'vitest'
import { entropyOf } from '../../shared/draft/tell/entropy.ts'

/** Goes along every arrow of a table of counts once and comes back: a ring whose pairs are counted just so. */
function ringOf(counts: readonly (readonly number[])[]): number[] {
  const left = counts.map((row) => [...row])
  const [stack, ring] = [[0], [] as number[]]
  while (stack.length > 0) {
    const row = left[stack.at(-1)!]!
    const next = row.findIndex((count) => count > 0)
    if (next < 0) ring.push(stack.pop()!)
    else {
      row[next]!--
      stack.push(next)
    }
  }
  return ring.slice(1).reverse()
}

// By hand, in bits: A A B B as a ring has the pairs AA, AB, BB, BA once each, so each symbol leaves one open question.
test.each([
  ['nothing', [], 0, 0],
  ['one symbol', [7, 7, 7], 0, 0],
  ['A B', [0, 1], 1, 0],
  ['A A B B', [0, 0, 1, 1], 1, 1],
  ['A B C D, each telling the next', [0, 1, 2, 3], 2, 0],
  // A is followed by A, A, B and B by A: 3/4 x H(2/3, 1/3) = 3/4 x (log2 3 - 2/3).
  ['A A A B', [0, 0, 0, 1], 2 - 0.75 * Math.log2(3), 0.75 * (Math.log2(3) - 2 / 3)],
])('entropyOf(%s) is what the hand makes it', (_, symbols, alone, givenLast) => {
  const entropy = entropyOf(symbols)
  expect(entropy.n).toBe(symbols.length)
  expect(entropy.alone).toBeCloseTo(alone, 12)
  expect(entropy.givenLast).toBeCloseTo(givenLast, 12)
})

/**
 * Shannon, “A Mathematical Theory of Communication” (1948), section 2, the example of three letters: p(A) = 9/27,
 * p(B) = 16/27, p(C) = 2/27 with the digrams AB 4/15, AC 1/15, BA 8/27, BB 8/27, CA 1/27, CB 4/135, CC 1/135; from
 * memory. Its transitions are A: 4/5, 1/5; B: 1/2, 1/2; C: 1/2, 2/5, 1/10. 135 symbols hold every digram exactly.
 */
test('entropyOf(ring with the digrams of the 1948 example) is the sum of p(i) H(i) of its transitions', () => {
  const ring = ringOf([
    [0, 36, 9],
    [40, 40, 0],
    [5, 4, 1],
  ])
  expect(ring).toHaveLength(135)
  const bits = (...shares: number[]) => shares.reduce((sum, share) => sum - share * Math.log2(share), 0)
  const { alone, givenLast } = entropyOf(ring)
  expect(alone).toBeCloseTo(bits(9 / 27, 16 / 27, 2 / 27), 12)
  expect(givenLast).toBeCloseTo(
    (9 * bits(4 / 5, 1 / 5) + 16 * bits(1 / 2, 1 / 2) + 2 * bits(1 / 2, 2 / 5, 1 / 10)) / 27,
    12,
  )
})

test('entropyOf(symbols) keeps to the chain rule, whatever the ring and wherever it begins', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 40 }), (ring) => {
      const { alone, givenLast } = entropyOf(ring)
      // H(X, Y) from the pairs themselves, each pair taken as one symbol.
      const pairs = entropyOf(ring.map((now, at) => now * 10 + ring[(at + 1) % ring.length]!))
      expect(pairs.alone).toBeCloseTo(alone + givenLast, 10)
      expect(givenLast).toBeLessThanOrEqual(alone + 1e-12)
      expect(entropyOf([...ring.slice(1), ring[0]!]).givenLast).toBeCloseTo(givenLast, 10)
    }),
    { numRuns: 60 },
  )
})
