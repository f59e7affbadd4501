import { describe, expect, test } from 'vitest'
import { toMatch, toSegments } from '../../server/catalogue/search-words.ts'

describe('toMatch(typed)', () => {
  test.each([
    ['madder', '"madder"*'],
    ['madder bor', '"madder" "bor"*'],
    ['"stepped fret"', '"stepped fret"'],
    ['“stepped fret” bor', '"stepped fret" "bor"*'],
    ['"stepped fr', '"stepped fr"*'],
    ['a OR b NOT c NEAR(d)', '"a" "OR" "b" "NOT" "c" "NEAR(d)"*'],
    ['title:fret -fret ^fret fret*', '"title:fret" "-fret" "^fret" "fret*"*'],
    ['FM 12 – 4', '"FM" "12" "4"*'],
    ['madder\u0000', '"madder"*'],
    ['to the the the end', '"to" "the" "end"*'],
  ])('reads %j', (typed, match) => {
    expect(toMatch(typed)).toBe(match)
  })

  test.each(['', '   ', '"', '""', '* ^ ( ) - :', '…'])('finds nothing to look for in %j', (typed) => {
    expect(toMatch(typed)).toBeUndefined()
  })
})

describe('toSegments(marked)', () => {
  test('parts a marked text and drops marks that lead nowhere', () => {
    expect(toSegments('the \ue000fret\ue001 of')).toEqual([
      { text: 'the ', hit: false },
      { text: 'fret', hit: true },
      { text: ' of', hit: false },
    ])
    expect(toSegments('\ue001a\ue000')).toEqual([{ text: 'a', hit: false }])
  })
})
