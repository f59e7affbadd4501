import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mergeFields } from '../../shared/edit/merge.ts'

describe('mergeFields(base, mine, theirs)', () => {
  const base = { name: 'Fen band', holder: 'Town', notes: 'old' }

  test('lists nothing when both say the same, or only I changed something', () => {
    expect(mergeFields(base, base, base)).toEqual([])
    expect(mergeFields(base, { ...base, notes: 'mine' }, base)).toEqual([])
    expect(mergeFields(base, { ...base, notes: 'same' }, { ...base, notes: 'same' })).toEqual([])
  })

  test('takes over what only they changed', () => {
    expect(mergeFields(base, base, { ...base, holder: 'County' })).toEqual([
      { name: 'holder', value: 'County', theirs: 'County', outcome: 'taken' },
    ])
  })

  test('keeps mine and shows theirs where both changed it', () => {
    expect(mergeFields(base, { ...base, notes: 'mine' }, { ...base, notes: 'theirs' })).toEqual([
      { name: 'notes', value: 'mine', theirs: 'theirs', outcome: 'clash' },
    ])
  })

  test('takes a field whose base is not known for a clash', () => {
    expect(mergeFields({}, { notes: 'mine' }, { notes: 'theirs' })[0]?.outcome).toBe('clash')
  })

  test('never loses a word of mine that differs from what stood there', () => {
    const word = fc.constantFrom('', 'a', 'b', 'c')
    fc.assert(
      fc.property(word, word, word, (was, own, other) => {
        const [merged] = mergeFields({ f: was }, { f: own }, { f: other })
        const value = merged ? merged.value : own
        expect(value === own || (own === was && value === other)).toBe(true)
      }),
    )
  })
})
