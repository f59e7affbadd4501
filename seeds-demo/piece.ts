import { drennetGirdle } from './piece/drennet-girdle.ts'
import { drennetStart } from './piece/drennet-start.ts'
import { guildHem } from './piece/guild-hem.ts'
import { kelderhowLozenge } from './piece/kelderhow-lozenge.ts'
import { museumFret } from './piece/museum-fret.ts'
import { pikeInLinen } from './piece/pike-in-linen.ts'
import { teachingChevron } from './piece/teaching-chevron.ts'
import { tessaryPike } from './piece/tessary-pike.ts'
import type { Piece } from './type.ts'

/** In the order in which they were planned. All of them are invented; see `scenario.ts`. */
export const pieces: readonly Piece[] = [
  museumFret,
  kelderhowLozenge,
  drennetStart,
  tessaryPike,
  drennetGirdle,
  teachingChevron,
  guildHem,
  pikeInLinen,
]
