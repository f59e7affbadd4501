import type { Original } from '../type.ts'

const ossavar = { state: 'asPreserved', basis: 'read', source: 'ossavar', on: '2026-02-08' } as const
const letter = { ...ossavar, source: 'emmerlayLetter', on: '2025-12-14' } as const
const photo = { state: 'asPreserved', basis: 'photograph', source: 'girdlePhoto', on: '2026-02-10' } as const

export const drennet: Original = {
  key: 'drennet',
  names: ['Drennet Pool girdle', 'Causeway girdle'],
  holder: 'Marsh Museum of Orrowmere, Quennet (invented)',
  inventoryNumber: 'MMO 1974.11.1',
  findPlace: 'Causeway at Drennet Pool, Orrowmere (invented)',
  findContext: 'Between the planks of the second causeway, knotted to nothing',
  dateEdtf: '0790?',
  technique: 'Tablet weaving, double face, every tablet turned for itself',
  preservation: 'Nearly whole, both fringes; the middle third worn to the weft',
  notes: `One undyed path through blue, from end to end, and not one tablet does what its neighbour does. Ossavar calls it
*"patient or stubborn work"*. After ${'`64`'} picks it begins again, and the second half of those is the first in the mirror: you only
have to learn thirty-two.

The yarn is **thick** for so fine a drawing. It is a working girdle, and it was worn.`,
  claims: [
    {
      key: 'drennetWidth',
      feature: 'width',
      value: '38.5',
      unit: 'mm',
      n: 7,
      u: '0.4',
      ...letter,
      locator: 'p. 1, from the store card of 2012',
      working: true,
      workingReason: 'Seven places with a gauge, fringe ends left out. The photograph is at a slant to its scale.',
    },
    { feature: 'width', value: '36.2', unit: 'mm', u: '1.0', ...photo, locator: 'at the left knot' },
    {
      feature: 'width',
      value: '40.1',
      unit: 'mm',
      u: '0.9',
      state: 'asPreserved',
      basis: 'inferred',
      source: 'emmerlayLetter',
      locator: 'p. 2',
      on: '2025-12-14',
      corrects: 'drennetWidth',
      reason:
        'Shrinkage again, the other way about: freeze dried in 1975 with a control strip of new wool that lost 4 % of its breadth. The strip was plain weave, so it says little about a twined band; kept as a claim of its own.',
    },
    { feature: 'preservedLength', value: '1.92', unit: 'm', ...ossavar, locator: 'p. 44', working: true },
    { feature: 'thickness', value: '1.9', unit: 'mm', n: 4, u: '0.1', ...letter, locator: 'p. 1', working: true },
    { feature: 'tablets', value: '37', unit: 'count', u: '0', ...ossavar, locator: 'p. 45', working: true },
    { feature: 'holesThreaded', value: '4', unit: 'count', u: '0', ...ossavar, locator: 'p. 45', working: true },
    { feature: 'tabletsPerCm', value: '9.6', unit: 'perCm', u: '0.1', ...ossavar, locator: 'p. 45', working: true },
    { feature: 'picksPerCm', value: '7.4', unit: 'perCm', n: 5, u: '0.1', ...ossavar, locator: 'p. 45', working: true },
    { feature: 'repeatLength', low: '85', high: '88', unit: 'mm', ...photo, locator: 'repeats 4 to 9', working: true },
    { feature: 'repeatPicks', value: '64', unit: 'count', u: '0', ...ossavar, locator: 'fig. 9', working: true },
    { feature: 'warpDiameter', value: '0.51', unit: 'mm', n: 10, u: '0.01', ...letter, locator: 'p. 1', working: true },
    { feature: 'weftDiameter', value: '0.6', unit: 'mm', ...letter, locator: 'p. 1, one thread', working: true },
    { feature: 'warpBuild', text: 'Z2s', ...ossavar, locator: 'p. 45', working: true },
    { feature: 'weftBuild', text: 's', ...ossavar, locator: 'p. 45', working: true },
    { feature: 'warpFibre', text: 'wool', ...ossavar, locator: 'p. 44', working: true },
    { feature: 'weftFibre', text: 'wool', ...ossavar, locator: 'p. 44', working: true },
    { feature: 'dye', part: 'warp, blue', text: 'woad', ...ossavar, locator: 'p. 46, by eye', working: true },
    {
      feature: 'dye',
      part: 'border, red',
      blank: 'notKnownToMe',
      ...ossavar,
      locator: 'p. 46 has no word on it',
      working: true,
    },
    { feature: 'dye', part: 'warp, white', blank: 'notAnalysed', ...letter, locator: 'p. 3', working: true },
    { feature: 'structure', text: 'double face, no two neighbouring tablets alike', ...ossavar, working: true },
    { feature: 'edges', text: 'two tablets a side, red, chevron', ...ossavar, locator: 'p. 45', working: true },
  ],
}
