import type { Original } from '../type.ts'

const catalogue = { state: 'asPreserved', basis: 'read', source: 'catalogue', on: '2026-05-03' } as const
const rhonsel = { ...catalogue, source: 'rhonsel' } as const

export const brackholm: Original = {
  key: 'brackholm',
  names: ['Brackholm garter end'],
  holder: 'Marsh Museum of Orrowmere, Quennet (invented)',
  inventoryNumber: 'MMO 1988.7.52',
  findPlace: 'Brackholm peat cutting, Orrowmere (invented)',
  findContext: 'Spoil heap; no layer, no company',
  dateEdtf: '11XX',
  technique: 'Tablet weaving, turned forward throughout',
  preservation: 'One end with its plaited fringe',
  notes: `Nothing but turning forward, and the twist went out at the fringe: the plaits are still lively with it. The band a beginner
should weave first, and the one that the guild teaches with.`,
  claims: [
    {
      feature: 'width',
      low: '29',
      high: '31',
      unit: 'mm',
      ...rhonsel,
      locator: 'p. 31',
      working: true,
      workingReason: 'Says its limits; the catalogue rounds to half centimetres.',
    },
    { feature: 'width', value: '30', unit: 'mm', ...catalogue, locator: 'no. 41' },
    { feature: 'preservedLength', value: '165', unit: 'mm', ...rhonsel, locator: 'p. 31', working: true },
    { feature: 'tablets', value: '24', unit: 'count', u: '0', ...rhonsel, locator: 'p. 31', working: true },
    { feature: 'tabletsPerCm', value: '8.0', unit: 'perCm', u: '0.3', ...rhonsel, locator: 'p. 31', working: true },
    { feature: 'picksPerCm', value: '6.0', unit: 'perCm', n: 3, u: '0.2', ...rhonsel, locator: 'p. 31', working: true },
    { feature: 'repeatPicks', value: '4', unit: 'count', u: '0', ...rhonsel, locator: 'p. 32', working: true },
    { feature: 'warpBuild', text: 'Z2s', ...rhonsel, locator: 'p. 32', working: true },
    { feature: 'warpFibre', text: 'wool, coarse', ...rhonsel, locator: 'p. 32', working: true },
    {
      feature: 'weftFibre',
      blank: 'notPreserved',
      ...rhonsel,
      locator: 'p. 32, channels empty: plant fibre, gone',
      working: true,
    },
    { feature: 'dye', part: 'warp, red', blank: 'notAnalysed', ...catalogue, locator: 'no. 41', working: true },
    { feature: 'structure', text: 'warp twined, chevrons', ...rhonsel, locator: 'p. 32', working: true },
  ],
}
