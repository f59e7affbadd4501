import type { Original } from '../type.ts'

const glass = { state: 'asPreserved', basis: 'seen', source: 'chapelVisit', on: '2026-03-21' } as const
const pellowin = { state: 'asPreserved', basis: 'read', source: 'pellowin', on: '2026-03-14' } as const
const inPicture = { ...pellowin, basis: 'photograph' } as const

export const tessary: Original = {
  key: 'tessary',
  names: ['Tessary pike band', 'Chest fragment B'],
  holder: 'Tessary Chapel Trust (invented)',
  inventoryNumber: 'chest, drawer 2',
  findPlace: 'Tessary chapel, Orrowmere (invented)',
  findContext: 'Pasted into the lid of a chest as a hinge',
  dateEdtf: '1340~/1390~',
  technique: 'Tablet weaving, double face',
  preservation: 'Head and half the body of one fish, and the tail of the next; one edge cut off',
  notes: `Everybody in Orrowmere knows the pike from the tea towel. The band itself is **a hand's breadth of fragment** under
glass. That the second fish has its colours exchanged is seen at the torn end: undyed scales on blue begin there.

What we wove below the gill of that second fish is *our* fish.`,
  claims: [
    {
      feature: 'width',
      value: '22',
      unit: 'mm',
      ...inPicture,
      locator: 'p. 131, "about", one edge added',
      working: true,
      workingReason:
        'The only whole width that anybody offers. It has no uncertainty, and so no comparison can be decided by it.',
    },
    {
      feature: 'width',
      low: '19',
      high: '24',
      unit: 'mm',
      ...glass,
      locator: 'through the glass, 19 mm left and one edge gone',
    },
    { feature: 'preservedLength', value: '118', unit: 'mm', ...glass, locator: 'longest part', working: true },
    { feature: 'thickness', blank: 'notAnalysed', ...glass, locator: 'pasted down', working: true },
    {
      feature: 'tablets',
      value: '30',
      unit: 'count',
      u: '0',
      state: 'asPreserved',
      basis: 'inferred',
      on: '2026-03-22',
      reason: '24 in the field and 3 in the edge that is left; the lost edge taken as its mirror.',
      working: true,
      workingReason: 'The fish is whole in breadth, so only the lost edge is a guess.',
    },
    { feature: 'tablets', low: '27', high: '32', unit: 'count', ...inPicture, locator: 'p. 131' },
    { feature: 'holesThreaded', value: '4', unit: 'count', ...pellowin, locator: 'p. 132', working: true },
    {
      feature: 'picksPerCm',
      readings: '70 in 8; 71 in 8',
      unit: 'perCm',
      ...glass,
      locator: 'two places',
      working: true,
    },
    {
      feature: 'repeatLength',
      blank: 'notPreserved',
      ...glass,
      locator: 'the second fish ends at its gill',
      working: true,
    },
    {
      feature: 'repeatPicks',
      value: '144',
      unit: 'count',
      state: 'asPreserved',
      basis: 'inferred',
      on: '2026-03-22',
      reason: 'Twice the 72 picks of the first fish, head to wave, if the second is as long.',
      working: true,
    },
    {
      feature: 'warpDiameter',
      blank: 'notKnownToMe',
      ...glass,
      locator: 'no lens reaches through the glass',
      working: true,
    },
    { feature: 'warpFibre', text: 'wool', ...pellowin, locator: 'p. 132', working: true },
    { feature: 'weftFibre', text: 'linen', ...pellowin, locator: 'p. 132, at the tear', working: true },
    {
      feature: 'dye',
      part: 'warp, blue',
      blank: 'notPublished',
      ...pellowin,
      locator: 'p. 132, "in preparation"',
      working: true,
    },
    { feature: 'colour', part: 'warp, blue', text: 'blue-black', ...glass, working: true },
    { feature: 'colour', part: 'edge line', text: 'yellow, one tablet', ...glass, working: true },
    { feature: 'edges', text: 'one edge left: two dark tablets and a yellow line', ...glass, working: true },
    {
      feature: 'edges',
      part: 'the other edge',
      blank: 'notPreserved',
      ...glass,
      locator: 'cut for the hinge',
      working: true,
    },
  ],
}
