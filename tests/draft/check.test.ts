import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkDraft } from '../../shared/draft/check.ts'
import { weave } from '../../shared/draft/weave.ts'
import { arbitraryDraft, COLOURS } from './arbitrary-draft.ts'
import { BAND, checksOf, ONE } from './checks-of.ts'

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
