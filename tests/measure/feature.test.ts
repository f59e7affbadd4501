import { expect, test } from 'vitest'
import { BASES, BLANKS, labelOf, STATES } from '../../shared/measure/claim-word.ts'
import { FEATURE_GROUPS, FEATURES, findFeature, isQuantity } from '../../shared/measure/feature.ts'
import { BASE_UNITS } from '../../shared/measure/unit.ts'

test('FEATURES have keys that differ, labels that differ, and a group that pages show', () => {
  expect(new Set(FEATURES.map(({ key }) => key)).size).toBe(FEATURES.length)
  expect(new Set(FEATURES.map(({ label }) => label)).size).toBe(FEATURES.length)
  expect(new Set(FEATURES.map(({ group }) => group))).toEqual(new Set(Object.keys(FEATURE_GROUPS)))
})

test('FEATURES stand group by group, in the order of the groups', () => {
  const order = Object.keys(FEATURE_GROUPS)
  const places = FEATURES.map(({ group }) => order.indexOf(group))
  expect(places).toEqual([...places].sort((a, b) => a - b))
})

test('FEATURES that are measured have units and a base unit, those in words have neither', () => {
  for (const { kind, units, baseUnit, comparesAsRatio } of FEATURES) {
    expect(units.length > 0).toBe(isQuantity(kind))
    expect(baseUnit).toBe(isQuantity(kind) ? BASE_UNITS[kind] : null)
    if (comparesAsRatio) expect(isQuantity(kind)).toBe(true)
  }
})

test('FEATURES hold what an analysis of a band records', () => {
  const wanted =
    'width preservedLength thickness repeatLength tabletsPerCm endsPerCm picksPerCm warpDiameter warpTwistAngle ' +
    'warpBuild warpFibre weftDiameter weftTwistAngle weftBuild weftFibre dye colour tablets holesThreaded repeatPicks ' +
    'structure edges'
  expect(FEATURES.map(({ key }) => key)).toEqual(wanted.split(' '))
})

test('findFeature(key) knows what compares as a ratio: widths and densities, not angles, nor what is left of a length', () => {
  expect(findFeature('width')).toMatchObject({ baseUnit: 'mm', comparesAsRatio: true })
  expect(findFeature('picksPerCm')).toMatchObject({ baseUnit: 'perCm', comparesAsRatio: true })
  expect(findFeature('warpTwistAngle')?.comparesAsRatio).toBe(false)
  expect(findFeature('preservedLength')?.comparesAsRatio).toBe(false)
  expect(findFeature('smell')).toBeUndefined()
})

test('dye and colour alone are claimed yarn by yarn', () => {
  expect(FEATURES.filter(({ perYarn }) => perYarn).map(({ key }) => key)).toEqual(['dye', 'colour'])
})

test('the closed lists hold four states, five bases and four blanks, worded as the glossary words them', () => {
  expect(STATES.map(({ label }) => label)).toEqual(['as preserved', 'on the loom', 'off tension', 'washed'])
  expect(BASES.map(({ label }) => label)).toEqual([
    'seen on the object',
    'read in a publication',
    'read off a photograph',
    'inferred',
    'assumed',
  ])
  expect(BLANKS.map(({ label }) => label)).toEqual([
    'not analysed',
    'not preserved',
    'not published',
    'not known to me',
  ])
})

test('labelOf(words, key) finds the label', () => {
  expect(labelOf(BLANKS, 'notKnownToMe')).toBe('not known to me')
  // A key read from a database is a string that the compiler was only promised.
  expect(() => labelOf<string>(BLANKS, 'lost')).toThrow(RangeError)
})
