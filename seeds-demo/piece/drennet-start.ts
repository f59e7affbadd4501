import type { Piece } from '../type.ts'
import { at } from './sitting.ts'

const tight = { state: 'onTheLoom', basis: 'seen', on: '2026-03-22' } as const

export const drennetStart: Piece = {
  key: 'drennetStart',
  name: 'Drennet girdle, first start',
  maker: 'Ineth Vallow',
  original: 'drennet',
  draft: 'meander',
  revision: 1,
  plannedOn: '2026-02-08',
  onLoomOn: '2026-03-15',
  setAsideOn: '2026-03-28',
  setAsideReason:
    'Yarn far too fine and hairy: sheds stick, and the band is 11 mm narrower than the girdle. Cut off and kept.',
  notes: `Kept with its tablets still on, as a lesson in a drawer. **An abandoned start is a piece too**: its readings told me which yarn
to buy for the next.`,
  wentWrong: `- yarn chosen because it was there
- tablet 22 one pick late, twice in the same place: the draft itself had it so, because I drew the centre of the spiral too
  small to read. Its second revision has it right
- 260 minutes of threading in one sitting, and the last ten tablets show it`,
  yarns: [
    {
      role: 'pattern warp, blue',
      yarn: 'fine woollen two-ply, woad',
      count: '40',
      system: 'Nm',
      ply: 2,
      colourKey: 'woad',
    },
    {
      role: 'pattern warp, white',
      yarn: 'fine woollen two-ply, undyed',
      count: '40',
      system: 'Nm',
      ply: 2,
      colourKey: 'undyed',
    },
    {
      role: 'border and weft',
      yarn: 'fine worsted two-ply, madder',
      count: '36',
      system: 'Nm',
      ply: 2,
      colourKey: 'madder',
    },
  ],
  measurements: [
    { feature: 'width', readings: '27.0; 26.5; 27.5', unit: 'mm', resolution: '0.5', ...tight, working: true },
    { feature: 'picksPerCm', readings: '48 in 5', unit: 'perCm', ...tight, working: true },
    { feature: 'tablets', value: '37', unit: 'count', u: '0', ...tight, working: true },
    {
      feature: 'repeatLength',
      blank: 'notKnownToMe',
      locator: 'not one whole repeat was woven',
      ...tight,
      working: true,
    },
  ],
  sittings: [
    at(
      '2026-03-07',
      '13:00',
      '17:05',
      25,
      'draft',
      {},
      'Every tablet for itself. Two evenings of coloured pencils in one afternoon.',
    ),
    at(
      '2026-03-14',
      '10:00',
      '12:50',
      20,
      'wind',
      {},
      '148 ends of the finest yarn I have, because it was there. That is not a reason.',
    ),
    at('2026-03-15', '10:30', '14:50', 30, 'thread', {}, '37 tablets, four threads each, one lamp.'),
    at(
      '2026-03-21',
      '13:00',
      '15:42',
      20,
      'weave',
      { repeats: 0.5, picks: 32 },
      'The sheds stick. Each has to be opened by hand, tablet by tablet.',
    ),
    at(
      '2026-03-22',
      '10:00',
      '12:17',
      25,
      'weave',
      { repeats: 0.4, picks: 26 },
      '27 mm wide at the best place, where the girdle has 38.5. And tablet 22 is one pick late.',
    ),
    at(
      '2026-03-22',
      '16:00',
      '17:15',
      5,
      'unweave',
      {},
      'Unwove to the slip, wove two picks, had the same slip again.',
    ),
  ],
}
