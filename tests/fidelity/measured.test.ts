import { describe, expect, test } from 'vitest'
import { matchColours } from '../../shared/fidelity/match-colours.ts'
import { proposeRelation, proposeTogether } from '../../shared/fidelity/measured.ts'

describe('proposeRelation', () => {
  test.each([
    ['the same, where both are exact and equal', 1, 0, [1, 1], 'same'],
    ['near, where both are exact and differ by a twentieth', 1.05, 0, [1.05, 1.05], 'near'],
    ['substituted, where both are exact and differ by half', 1.5, 0, [1.5, 1.5], 'substituted'],
    ['the same, where a narrow interval holds 1', 1.02, 0.02, [0.98, 1.06], 'same'],
    ['nothing, where a wide interval holds 1', 1.02, 0.2, [0.6, 1.4], 'notJudged'],
    ['near, where the difference is sure and small', 1.04, 0.01, [1.02, 1.06], 'near'],
    ['substituted, where it is sure and large', 1.4, 0.02, [1.36, 1.44], 'substituted'],
    ['nothing, where there is no interval', 1, null, null, 'notJudged'],
  ] as const)('proposes %s', (_, ratio, uRatio, interval, relation) => {
    expect(proposeRelation({ ratio, uRatio, interval })).toBe(relation)
  })
})

test('proposeTogether takes the least like of several features', () => {
  expect(proposeTogether(['same', 'near', 'substituted'])).toBe('substituted')
  expect(proposeTogether(['same', 'notJudged'])).toBe('notJudged')
  expect(proposeTogether([])).toBeUndefined()
})

describe('matchColours', () => {
  test('sets the nearest beside each other, each once', () => {
    const pairs = matchColours(
      [
        { key: 'red', hex: '#a03020' },
        { key: 'pale', hex: '#e8dcc0' },
      ],
      [
        { key: 'blue', hex: '#203080' },
        { key: 'madder', hex: '#a03524' },
        { key: 'undyed', hex: '#e9dfc8' },
      ],
    )
    expect(pairs.map(({ one, other }) => [one, other])).toEqual([
      ['red', 'madder'],
      ['pale', 'undyed'],
    ])
    expect(pairs[0]!.difference).toBeGreaterThan(0)
  })

  test('is 0 apart for the same colour, and empty for an empty palette', () => {
    expect(matchColours([{ key: 1, hex: '#123456' }], [{ key: 2, hex: '#123456' }])[0]!.difference).toBe(0)
    expect(matchColours([], [{ key: 2, hex: '#123456' }])).toEqual([])
  })
})
