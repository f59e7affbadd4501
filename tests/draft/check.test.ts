import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Check } from '../../shared/draft/check-result.ts'
import { checkDraft } from '../../shared/draft/check.ts'
import { readPickText } from '../../shared/draft/pick-text.ts'
import { readThreading } from '../../shared/draft/threading.ts'
import { weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, COLOURS } from './arbitrary-draft.ts'

/** The checks of a draft typed as threading and turning, by key. */
function checksOf(threading: string, turning: string): Map<Check['key'], Check> {
  const read = readThreading(threading, COLOURS)
  if (!read.ok) throw new Error(read.problems[0]!.message)
  const { tablets } = read
  const typed = readPickText(turning, tablets.length)
  if (!typed.ok) throw new Error(typed.problems[0]!.message)
  const draft = { title: '', colours: COLOURS, weft: 'm', tablets, picks: typed.picks }
  const checks = checkDraft(draft, typed.turning, weave(draft, typed.turning))
  return new Map(checks.map((check) => [check.key, check]))
}

const ONE = 'S m w b2 m'
const BAND = '1-2: S m m m m border\n3-12: Z m w w m\nmirror'

describe('checkDraft(draft, turning, woven) on twist', () => {
  test('names the tablets that are not neutral, grouped, and by how much', () => {
    expect(checksOf(BAND, '24F x36\n2F 20B 2F x36').get('twist')).toEqual({
      key: 'twist',
      verdict: 'note',
      text:
        'Not twist-neutral. Tablets 1, 2, 23, 24: 72 quarter turns forward each repeat, ' +
        '18 whole turns of twist in the bare warp.',
    })
  })

  test('speaks of one tablet and one turn in the singular, the strongest twist first', () => {
    expect(checksOf(`1-2: ${ONE}`, '1I 1B x4\n1F 1B').get('twist')!.text).toBe(
      'Not twist-neutral. Tablet 2: 5 quarter turns back each repeat, 1.25 whole turns of twist in the bare warp. ' +
        'Tablet 1: 1 quarter turn forward each repeat, 0.25 of a whole turn of twist in the bare warp.',
    )
  })

  test('is good when every tablet is neutral, not when they only cancel', () => {
    expect(checksOf(`1-2: ${ONE}`, '2F\n2B').get('twist')!.verdict).toBe('good')
    expect(checksOf(`1-2: ${ONE}`, '1F 1B').get('twist')!.verdict).toBe('note')
  })

  test('counts the tablets of weaker groups once six are named', () => {
    const turning = Array.from({ length: 8 }, (_, pick) => `${pick + 1}F${pick < 7 ? ` ${7 - pick}I` : ''}`).join('\n')
    expect(checksOf(`1-8: ${ONE}`, turning).get('twist')!.text).toMatch(/Another 2 tablets by less\.$/)
  })
})

describe('checkDraft(draft, turning, woven) on closure', () => {
  test.each([
    ['1F x4', 'good', 'The pattern closes after one repeat of 4 picks: every tablet is back at its starting hole.'],
    [
      '1F x2',
      'note',
      'The pattern closes only after 2 repeats (4 picks): after one, tablet 1 stands at another hole than at the start.',
    ],
    [
      '1F',
      'note',
      'The pattern closes only after 4 repeats (4 picks): after one, tablet 1 stands at another hole than at the start.',
    ],
  ])('of %j is %s', (turning, verdict, text) => {
    expect(checksOf(ONE, turning).get('closure')).toEqual({ key: 'closure', verdict, text })
  })
})

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

describe('checkDraft(draft, turning, woven) on border against pattern', () => {
  const band = '1: S m m m m border\n2-3: Z m w w m\n4: Z m m m m border'
  test.each([
    [
      'a border that turns steadily while the pattern reverses',
      band,
      '4F x4\n1F 2B 1F x4',
      'note',
      'The border tablets turn apart from the pattern tablets. The border turns steadily while the pattern reverses, ' +
        'so twist builds up at the edges only: 2 whole turns each repeat in tablets 1, 4. ' +
        'Turning the border the other way for as many picks takes it out again.',
    ],
    [
      'a pattern that keeps twist too',
      band,
      '4F x4\n1F 2B 1I x2',
      'note',
      'The border tablets turn apart from the pattern tablets. The border turns steadily while the pattern reverses, ' +
        'so twist builds up at the edges as well as in the pattern: up to 1.5 whole turns each repeat in tablets 1, 4. ' +
        'Turning the border the other way for as many picks takes it out again.',
    ],
    [
      'a border in one pack with the pattern',
      band,
      '4F x4\n4B x4',
      'good',
      'Border tablets 1, 4 turn exactly as pattern tablets do, through the whole repeat. ' +
        'They reverse only at picks where the pattern reverses too.',
    ],
    [
      'a border that reverses by itself',
      band,
      '4F x2\n1B 2F 1B x2',
      'good',
      'The border tablets turn apart from the pattern tablets. They reverse at picks of their own: 3.',
    ],
    [
      'no reversal at all',
      band,
      '4F x4',
      'good',
      'Border tablets 1, 4 turn exactly as pattern tablets do, through the whole repeat. ' +
        'Neither border nor pattern reverses.',
    ],
    [
      'a border that stands among the pattern',
      'S m m m m\nS m m m m border\nS m m m m',
      '3F',
      'note',
      'Tablet 2 is marked as border but stands among the pattern. ' +
        'Border tablet 2 turns exactly as pattern tablets do, through the whole repeat. ' +
        'Neither border nor pattern reverses.',
    ],
    [
      'no border',
      ONE,
      '1F',
      'note',
      'No tablet is marked as border, so the edges are not looked at apart from the pattern.',
    ],
    [
      'nothing but border',
      `${ONE} border`,
      '1F',
      'note',
      'Every tablet is marked as border; there is no pattern to compare.',
    ],
  ])('tells of %s', (_, threading, turning, verdict, text) => {
    expect(checksOf(threading, turning).get('borders')).toEqual({ key: 'borders', verdict, text })
  })
})

describe('checkDraft(draft, turning, woven) on parity', () => {
  const compare =
    'So two tablets that began equal or half a turn apart are never a quarter turn apart: if they are, one of them ' +
    'was turned too little or too much.'
  test.each([
    ['2F\n1F 1B', 'good', `Every tablet makes a quarter turn at every pick. ${compare}`],
    [
      '2F\n2I x2\n1(2F) 1I',
      'good',
      `At picks 2 to 4 all tablets idle or make a half turn; at every other pick each makes a quarter turn. ${compare}`,
    ],
    ['2I', 'good', `At every pick all tablets idle or make a half turn. ${compare}`],
    [
      '2F\n2I\n1F 1I x2\n1(2B) 1F',
      'note',
      'Some tablets idle or make a half turn while others make a quarter turn: tablet 2 at picks 3, 4; tablet 1 at ' +
        'pick 5. From pick 3 on two tablets may rightly stand a quarter turn apart, so a slip cannot be told by ' +
        'comparing them.',
    ],
  ])('of %j is %s', (turning, verdict, text) => {
    expect(checksOf(`1-2: ${ONE}`, turning).get('parity')).toMatchObject({ key: 'parity', verdict, text })
  })
})

describe('checkDraft(draft, turning, woven)', () => {
  test('gives whole sentences and short lists for every draft', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning }) => {
        const checks = checkDraft(draft, turning, weave(draft, turning))
        const keys = checks.map(({ key }) => key)
        expect(keys).toEqual(expect.arrayContaining(['twist', 'closure', 'floats', 'borders', 'parity']))
        expect(new Set(keys).size).toBe(keys.length)
        for (const { text, places = [] } of checks) {
          expect(text).toMatch(/^[A-Z0-9].*\.$/)
          expect(text).not.toMatch(
            /undefined|NaN|Infinity|\b1 (picks|quarter turns|tablets|floats|threads|more places|repeats)\b/,
          )
          expect(places.length).toBeLessThanOrEqual(50)
          for (const { tablets, from } of places) {
            expect(from).toBeGreaterThan(0)
            expect(tablets).toEqual([...new Set(tablets)].sort((a, b) => a - b))
          }
        }
      }),
    )
  })

  test('throws when turning and woven are of two sizes', () => {
    const draft = { title: '', colours: COLOURS, weft: 'm', tablets: [], picks: [] }
    const none = { tablets: 0, picks: 0, turns: new Int8Array(0) }
    expect(() => checkDraft(draft, { ...none, picks: 1 }, weave(draft, none))).toThrow(RangeError)
  })
})
