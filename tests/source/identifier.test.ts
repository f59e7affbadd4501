import { describe, expect, test } from 'vitest'
import { readDoi, readIsbn, readIssn } from '../../shared/source/identifier.ts'

describe('readIsbn(text)', () => {
  // The two of 306406152: worked example of the calculation for 13 digits, as the users' manual of the International ISBN
  // Agency has it (from memory; the sum, 93, stands in many places). 0-8436-1072-7: worked example of ten digits, sum 198, as
  // handed down from the same manual. 0-8044-2957-X: from memory, for the X.
  test.each([
    ['978-0-306-40615-7', '9780306406157'],
    ['0-306-40615-2', '9780306406157'],
    ['ISBN 978 0 306 40615 7', '9780306406157'],
    ['ISBN-10: 0-8436-1072-7', '9780843610727'],
    ['0-8044-2957-X', '9780804429573'],
  ])('takes %s', (text, value) => {
    expect(readIsbn(text)).toEqual({ ok: true, value })
  })

  test.each([
    ['0-306-40615-3', 'it would be 2'],
    ['978-0-306-40615-8', 'it would be 7'],
    ['0-8044-2957-1', 'it would be X'],
    ['123', '10 or 13 digits'],
    ['977-0-306-40615-7', 'begins with 978 or 979'],
  ])('refuses %s and says what would fit', (text, sentence) => {
    expect(readIsbn(text)).toMatchObject({ ok: false, problem: expect.stringContaining(sentence) as string })
  })
})

describe('readIssn(text)', () => {
  // 0317-8471: worked example of the ISSN Manual, excerpt at loc.gov/issn/check.html. 0378-5955: Hearing Research, the
  // usual example beside it.
  test.each(['0317-8471', 'ISSN 03785955', '2434-561X'])('takes %s', (text) => {
    expect(readIssn(text).ok).toBe(true)
  })
  test('refuses another check digit and says which would fit', () => {
    expect(readIssn('0317-8472')).toMatchObject({
      ok: false,
      problem: expect.stringContaining('it would be 1') as string,
    })
    expect(readIssn('0317-847').ok).toBe(false)
  })
})

describe('readDoi(text)', () => {
  // 10.1000/182 is the DOI of the DOI Handbook.
  test.each(['10.1000/182', 'https://doi.org/10.1000/182', 'doi: 10.1000/182'])(
    'takes %s without its resolver',
    (text) => {
      expect(readDoi(text)).toEqual({ ok: true, value: '10.1000/182' })
    },
  )
  test.each(['11.1000/182', '10.1000', '10.1000/18 2', ''])('refuses %s', (text) => {
    expect(readDoi(text).ok).toBe(false)
  })
})
