import { describe, expect, test } from 'vitest'
import { checksOf, ONE } from './checks-of.ts'

describe('checkDraft(draft, turning, woven) on floats', () => {
  test('is good up to three picks and says how long they are', () => {
    expect(checksOf(ONE, '1F x6\n1B x6').get('floats')).toEqual({
      key: 'floats',
      verdict: 'good',
      text: 'No thread floats over more than 3 picks: the longest is 3 on the face and 3 on the reverse.',
    })
  })

  test('folds tablets and sides that float alike into one place', () => {
    const floats = checksOf(`1-3: ${ONE}\nZ - m m m`, '4F\n3B 1F\n4F\n3B 1F').get('floats')!
    expect(floats.text).toBe(
      '6 floats are longer than 3 picks, the longest 4 on the face and 4 on the reverse: ' +
        'tablets 1 to 3 at picks 1 to 4 (face and reverse).',
    )
    expect(floats.verdict).toBe('warn')
    expect(floats.places).toEqual([
      { tablets: [1, 2, 3], from: 1, to: 4, side: 'face' },
      { tablets: [1, 2, 3], from: 1, to: 4, side: 'reverse' },
    ])
  })

  test('names a few of many places and keeps fifty', () => {
    const turning = '1F\n1B\n1F\n1F\n1F\n'.repeat(100)
    const floats = checksOf(ONE, turning).get('floats')!
    expect(floats.text).toMatch(/; and \d+ more places\.$/)
    expect(floats.text.length).toBeLessThan(400)
    expect(floats.places).toHaveLength(50)
  })

  test('tells of floats that only the seam between repeats makes long', () => {
    const checks = checksOf(ONE, '1B\n1F x4\n1B\n1F')
    expect(checks.get('floats')!.text).toBe(
      '2 floats are longer than 3 picks, the longest 4 on the face and 4 on the reverse: ' +
        'tablet 1 at picks 4 to 7 (face and reverse).',
    )
    expect(checks.get('seam')).toMatchObject({
      verdict: 'warn',
      text:
        'Where one repeat meets the next, 2 floats run over more than 3 picks, the longest 6 on the face and 6 on ' +
        'the reverse: tablet 1 at picks 4 to 9 (face and reverse), counting on from pick 7.',
    })
    expect(checksOf(ONE, '1F x6\n1B x6').has('seam')).toBe(false)
  })
})

describe('checkDraft(draft, turning, woven) on tablets that never turn', () => {
  test('warns of them, and leaves their floats and hidden threads to this warning', () => {
    const checks = checksOf(`1-4: ${ONE}`, '1F 2I 1F\n1B 2I 1B\n'.repeat(4) + '1F 2I 1F x4')
    expect(checks.get('still')).toEqual({
      key: 'still',
      verdict: 'warn',
      text:
        'Tablets 2, 3 never turn: their threads stay above or below the weft through the whole repeat, ' +
        'and nothing binds them.',
      places: [{ tablets: [2, 3], from: 1, to: 12 }],
    })
    expect(checks.get('floats')!.places!.flatMap(({ tablets }) => tablets)).not.toContain(2)
    expect(checksOf(ONE, '1I').get('still')!.text).toMatch(/^Tablet 1 never turns: its threads/)
    expect(checksOf(ONE, '1I x9').get('floats')!.verdict).toBe('good')
    expect(checksOf(ONE, '1F').has('still')).toBe(false)
  })
})

describe('checkDraft(draft, turning, woven) on hidden threads', () => {
  test('names the holes, tablets alike together', () => {
    expect(checksOf(`1-3: ${ONE}\nS m m m m`, '4F\n3B 1F').get('hidden')!.text).toBe(
      '9 threads never show on the face: holes B, C, D of tablets 1 to 3.',
    )
    expect(checksOf('S m w - -', '1F\n1B').get('hidden')!.text).toBe(
      '1 thread never shows on the face: hole B of tablet 1.',
    )
    expect(checksOf(ONE, '1F').has('hidden')).toBe(false)
  })
})
