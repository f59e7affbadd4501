import { expect, test } from 'vitest'
import { endsOf } from '../../shared/draft/ends.ts'
import { draftOf, makeTablet } from './arbitrary-draft.ts'

// Common practice, no source.
test('endsOf(draft) counts 84 ends in 21 tablets of four threads', () => {
  const tablets = Array.from({ length: 21 }, () => makeTablet())
  expect(endsOf(draftOf(tablets, [tablets.map(() => 1)]).draft)).toBe(84)
})

test('endsOf(draft) leaves empty holes out', () => {
  const tablets = [makeTablet({ holes: ['m', null, 'w', null] }), makeTablet({ holes: ['m', 'm', 'm', null] })]
  expect(endsOf(draftOf(tablets, [[1, 1]]).draft)).toBe(5)
})
