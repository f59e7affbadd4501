import { expect, test } from 'vitest'
import { CAUTIONS } from '../../server/caution.ts'
import { cautionsFor } from '../../server/claim/caution.ts'
import { findFeature } from '../../shared/measure/feature.ts'

test.each([
  ['an original that may be handled', { originalId: 1 }, 'width', true, ['handling']],
  ['an original read of in a book', { originalId: 1 }, 'width', false, []],
  ['the dye of an original that may be handled', { originalId: 1 }, 'dye', true, ['handling', 'dyeing']],
  ['the dye of a piece', { pieceId: 1 }, 'dye', true, ['dyeing']],
  ['the width of a piece', { pieceId: 1 }, 'width', true, []],
] as const)('cautionsFor(subject, feature, mayBeSeen) of %s', (_what, subject, key, mayBeSeen, expected) => {
  const feature = findFeature(key)
  if (!feature) throw new Error(`no feature ${key}`)
  const found = cautionsFor(subject, feature, mayBeSeen)
  expect(found).toEqual(expected.map((about) => ({ about, text: CAUTIONS[about].text })))
})
