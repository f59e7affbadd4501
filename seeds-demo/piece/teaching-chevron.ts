import type { Piece } from '../type.ts'
import { at } from './sitting.ts'

const tight = { state: 'onTheLoom', basis: 'seen', on: '2026-06-21' } as const

export const teachingChevron: Piece = {
  key: 'teachingChevron',
  name: 'Teaching band',
  maker: 'Corrin Haskeld',
  original: 'brackholm',
  draft: 'chevron',
  forWhom: 'Apprentices of the Guild of the Turned Thread (invented)',
  plannedOn: '2026-05-03',
  onLoomOn: '2026-05-31',
  notes: `Lives on the guild's wall, rolled up, and comes down when somebody wants to learn. Every pick is the same: **all forward**.
That is why it is easy, and why the warp behind the tablets turns to wire. Letting it go that far is part of the lesson.`,
  wentWrong: 'Four hands, four beats: the picks run from 58 to 64 in ten centimetres.',
  yarns: [
    {
      role: 'warp, red',
      yarn: 'carpet worsted two-ply, madder',
      count: '10',
      system: 'Nm',
      ply: 2,
      colourKey: 'madder',
    },
    {
      role: 'warp, yellow',
      yarn: 'carpet worsted two-ply, weld',
      count: '10',
      system: 'Nm',
      ply: 2,
      colourKey: 'weld',
    },
    {
      role: 'warp, white',
      yarn: 'carpet worsted two-ply, undyed',
      count: '10',
      system: 'Nm',
      ply: 2,
      colourKey: 'undyed',
    },
    {
      role: 'warp and border, dark',
      yarn: 'carpet worsted two-ply, walnut',
      count: '10',
      system: 'Nm',
      ply: 2,
      colourKey: 'walnut',
    },
    { role: 'weft', yarn: 'tow linen single', count: '8', system: 'NeL', ply: 1 },
  ],
  measurements: [
    { feature: 'width', readings: '29.5; 30.0; 30.0; 29.5', unit: 'mm', resolution: '0.5', ...tight, working: true },
    {
      feature: 'picksPerCm',
      readings: '58 in 10; 64 in 10; 61 in 10; 62 in 10',
      unit: 'perCm',
      ...tight,
      working: true,
    },
    { feature: 'tablets', value: '24', unit: 'count', u: '0', ...tight, working: true },
    { feature: 'repeatPicks', value: '4', unit: 'count', u: '0', ...tight, working: true },
  ],
  sittings: [
    at(
      '2026-05-30',
      '10:00',
      '11:15',
      0,
      'wind',
      {},
      'Thick yarn, 96 ends, an hour and a bit. This is what a teaching band should be.',
    ),
    at('2026-05-31', '11:00', '12:45', 10, 'thread', {}, 'With three apprentices, one tablet each in turn.'),
    at(
      '2026-06-07',
      '14:00',
      '15:53',
      20,
      'weave',
      { repeats: 40, lengthMm: 260 },
      'Guild day. Four people wove ten repeats each.',
    ),
    at(
      '2026-06-21',
      '14:00',
      '15:53',
      25,
      'weave',
      { repeats: 48, lengthMm: 312 },
      'The warp kinks behind the tablets: 350 quarter turns forward and none back. Untied, combed out, tied again.',
    ),
  ],
}
