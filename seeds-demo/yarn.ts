import type { LotMovement, Yarn } from './type.ts'

const bought = (day: string, grams: string, note = ''): LotMovement => ({ kind: 'bought', day, grams, note })

/** The shelf of the two makers. Mills, dyers, prices and baths are invented as all the rest is. */
export const yarns: readonly Yarn[] = [
  {
    ...{ name: 'Fine worsted 40/2', blend: 'wool', count: 'Nm 40/2', build: 'Z2S', wrapsPerCm: '26' },
    supplier: 'The mill at Skerrow (invented)',
    notes: 'Corrin’s yarn for the fret: half the weight of the 20/2. Combed, hard, and it snarls dry.',
    lots: [
      {
        ...{ key: 'fineUndyed', colourName: 'undyed', colourHex: '#e9dfc8', lotNumber: '40-117' },
        price: '38.00',
        movements: [
          bought('2026-07-20', '1000', 'Two cones'),
          { kind: 'dyed', day: '2026-07-24', grams: '260', into: 'fineMadder', gramsAfter: '254', note: 'First bath' },
          { kind: 'dyed', day: '2026-07-26', grams: '240', into: 'fineWeld', gramsAfter: '236.5', note: '' },
          {
            kind: 'dyed',
            day: '2026-07-30',
            grams: '200',
            into: 'fineWalnut',
            gramsAfter: '203',
            note: 'Heavier by the hulls that would not rinse out',
          },
          { kind: 'reserved', day: '2026-08-01', grams: '12', piece: 'guildHem', note: '' },
          { kind: 'used', day: '2026-10-26', grams: '9.4', piece: 'guildHem', note: '' },
          { kind: 'released', day: '2026-10-26', grams: '2.6', piece: 'guildHem', note: '' },
        ],
      },
      {
        ...{ key: 'fineMadder', colourName: 'madder red', colourHex: '#9c3b2e', dye: 'madder root, 80 %' },
        ...{ mordant: 'alum, 15 %', dyedBy: 'Corrin Haskeld', dyedOn: '2026-07-24' },
        recipe:
          'Mordanted overnight, cold.\nMadder from cold to 65 degrees in two hours, held for one.\nA second, weaker bath is still in the bucket.',
        movements: [
          { kind: 'sample', day: '2026-07-27', grams: '2', note: 'Snippets for the guild to choose from' },
          { kind: 'reserved', day: '2026-08-01', grams: '60', piece: 'guildHem', note: '' },
          { kind: 'used', day: '2026-10-26', grams: '52.8', piece: 'guildHem', note: 'Weighed after the last hook' },
          { kind: 'released', day: '2026-10-26', grams: '7.2', piece: 'guildHem', note: '' },
        ],
      },
      {
        ...{ key: 'fineWeld', colourName: 'weld yellow', colourHex: '#d3aa3a', dye: 'weld', mordant: 'alum, 15 %' },
        ...{ dyedBy: 'Corrin Haskeld', dyedOn: '2026-07-26' },
        movements: [
          { kind: 'reserved', day: '2026-08-01', grams: '50', piece: 'guildHem', note: '' },
          {
            kind: 'used',
            day: '2026-10-26',
            grams: '55.1',
            piece: 'guildHem',
            note: 'More than planned: the frayed end',
          },
        ],
      },
      {
        ...{ key: 'fineWalnut', colourName: 'walnut brown', colourHex: '#4a3425', dye: 'walnut hulls', mordant: '' },
        ...{ dyedBy: 'Corrin Haskeld', dyedOn: '2026-07-30' },
        movements: [
          { kind: 'reserved', day: '2026-08-01', grams: '30', piece: 'guildHem', note: '' },
          { kind: 'used', day: '2026-10-26', grams: '28', piece: 'guildHem', note: '' },
          { kind: 'released', day: '2026-10-26', grams: '2', piece: 'guildHem', note: '' },
        ],
      },
    ],
  },
  {
    ...{ name: 'Worsted 24/2', blend: 'wool', count: 'Nm 24/2', build: 'Z2S' },
    supplier: 'The mill at Skerrow (invented)',
    notes: 'The thickest that the dyer would do in woad.',
    lots: [
      {
        ...{ key: 'woad24', colourName: 'woad blue', colourHex: '#33506f', colourLab: '33.1 -3.2 -21.4', dye: 'woad' },
        ...{ dyedBy: 'The dyer of Kelderhow', dyedOn: '2026-03-10', lotNumber: 'W 3', price: '18.50' },
        movements: [
          bought('2026-03-20', '200'),
          { kind: 'reserved', day: '2026-03-28', grams: '12', piece: 'drennetGirdle', note: '' },
          { kind: 'used', day: '2026-06-30', grams: '10', piece: 'drennetGirdle', note: '' },
          { kind: 'released', day: '2026-06-30', grams: '2', piece: 'drennetGirdle', note: '' },
          { kind: 'stocktake', day: '2026-09-01', grams: '189.1', note: 'Moths: none. The missing gram is fluff' },
        ],
      },
      {
        ...{ key: 'undyed24', colourName: 'undyed', colourHex: '#e9dfc8', price: '12.00' },
        movements: [
          bought('2026-03-20', '200'),
          { kind: 'used', day: '2026-06-30', grams: '9.9', piece: 'drennetGirdle', note: '' },
        ],
      },
      {
        ...{ key: 'madder24', colourName: 'madder red', colourHex: '#a04434', dye: 'madder root', mordant: 'alum' },
        ...{ dyedBy: 'Ineth Vallow', dyedOn: '2026-03-14' },
        movements: [
          bought('2026-03-20', '100', 'Bought undyed, dyed the same week'),
          { kind: 'used', day: '2026-06-30', grams: '2.5', piece: 'drennetGirdle', note: '' },
          { kind: 'lost', day: '2026-07-02', grams: '6.5', note: 'The cat' },
        ],
      },
    ],
  },
  {
    ...{ name: 'Woollen single', blend: 'wool', count: '110 tex', build: 'Z', supplier: '' },
    notes: 'Ineth’s own spinning, from the fleece of 2025.',
    lots: [
      {
        ...{ key: 'woollenMadder', colourName: 'madder, pale', colourHex: '#b9705c', dye: 'madder, second bath' },
        ...{ mordant: 'alum', dyedBy: 'Ineth Vallow', dyedOn: '2026-02-20' },
        movements: [
          bought('2026-02-21', '160', 'Spun, not bought'),
          { kind: 'used', day: '2026-06-30', grams: '2.9', piece: 'drennetGirdle', note: 'Weft' },
        ],
      },
    ],
  },
  {
    ...{
      name: 'Line linen 16',
      blend: 'linen',
      count: '16 lea',
      build: 'Z',
      supplier: 'A stall at Quennet (invented)',
    },
    notes: 'For the pike with a linen weft.',
    lots: [
      {
        ...{ key: 'linenGrey', colourName: 'unbleached', colourHex: '#b3a387', lotNumber: 'L 16', price: '9.50' },
        movements: [
          bought('2026-09-14', '250'),
          {
            kind: 'reserved',
            day: '2026-09-15',
            grams: '40',
            piece: 'pikeInLinen',
            note: 'Weft, and half of it for trying',
          },
          { kind: 'sample', day: '2026-09-20', grams: '3.2', note: 'Ten centimetres on eight tablets' },
        ],
      },
      { key: 'linenWhite', colourName: 'bleached', colourHex: '#f1ece0', movements: [bought('2026-09-14', '50')] },
    ],
  },
  {
    ...{ name: 'Spun silk', blend: 'silk', count: 'Nm 60/2', build: 'S2Z', supplier: '' },
    notes: 'A gift, for brocading some day. Nobody knows how old it is.',
    lots: [
      { key: 'silk', colourName: 'undyed', colourHex: '#f4efdf', movements: [bought('2026-01-06', '48.7', 'A gift')] },
    ],
  },
  {
    ...{ name: 'Wool and silk single', blend: 'wool 80, silk 20', count: 'NeW 32', build: 'Z' },
    supplier: 'The mill at Skerrow (invented)',
    notes: '',
    lots: [
      {
        ...{ key: 'weftWalnut', colourName: 'walnut, dark', colourHex: '#3c2c22', dye: 'walnut hulls' },
        ...{ dyedBy: 'Corrin Haskeld', dyedOn: '2026-07-30' },
        movements: [
          bought('2026-07-20', '100'),
          { kind: 'used', day: '2026-10-26', grams: '21.6', piece: 'guildHem', note: 'Weft' },
        ],
      },
    ],
  },
]
