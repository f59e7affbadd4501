import { describe, expect, test } from 'vitest'
import { canonicalJson } from '../../shared/archive/canonical.ts'
import { listDifferences } from '../../shared/archive/difference.ts'

describe('canonicalJson(value)', () => {
  test('gives the same text whatever the order of keys', () => {
    expect(canonicalJson({ b: 1, a: [null, {}] })).toBe(canonicalJson({ a: [null, {}], b: 1 }))
    expect(canonicalJson({ b: -0, a: [] })).toBe('{\n  "a": [],\n  "b": 0\n}\n')
  })

  // RFC 8785, 3.2.3: the order is that of UTF-16 units, so U+1F600 comes before U+FB33.
  test('sorts keys as RFC 8785 does', () => {
    const keys = ['\u20ac', '\r', '\ufb33', '1', '\u{1f600}', '\u0080', '\u00f6']
    const text = canonicalJson(Object.fromEntries(keys.map((key) => [key, 0])))
    expect(Object.keys(JSON.parse(text) as object)).toEqual([
      '1',
      '\r',
      '\u0080',
      '\u00f6',
      '\u20ac',
      '\u{1f600}',
      '\ufb33',
    ])
  })

  test.each([NaN, Infinity])('refuses %d', (value) => {
    expect(() => canonicalJson({ a: [value] })).toThrow(RangeError)
  })
})

describe('listDifferences(here, there, ignored)', () => {
  test('names each field that differs, whichever side has it', () => {
    const here = { a: 1, b: [1], c: 'x', d: null }
    const there = { a: 1, b: [2], e: false, c: 'y' }
    expect(listDifferences(here, there, ['c'])).toEqual([
      { field: 'b', here: [1], there: [2] },
      { field: 'e', here: null, there: false },
    ])
  })

  test('does not take what every object has for a field', () => {
    expect(listDifferences({}, { constructor: 'x' })).toEqual([{ field: 'constructor', here: null, there: 'x' }])
  })
})
