import type { Piece } from '../type.ts'
import { at } from './sitting.ts'

export const pikeInLinen: Piece = {
  key: 'pikeInLinen',
  name: 'Pike band with a linen weft',
  maker: 'Ineth Vallow',
  original: 'tessary',
  draft: 'pike',
  plannedOn: '2026-09-12',
  notes:
    'Corrin wove the pike with a wool weft. The tear shows **linen**, and a linen weft packs closer. One of us should find out.',
  wentWrong: '',
  yarns: [{ role: 'weft', yarn: 'line linen single', count: '16', system: 'NeL', ply: 1, lot: 'linenGrey' }],
  measurements: [],
  sittings: [
    at(
      '2026-09-12',
      '15:00',
      '16:20',
      0,
      'study',
      {},
      'Read my friend’s draft with a ruler under each line. I want to weave it in linen weft as the tear shows.',
    ),
  ],
}
