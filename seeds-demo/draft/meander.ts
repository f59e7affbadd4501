import type { Draft } from '../../shared/draft/draft.ts'
import { border, palette, pattern } from './thread.ts'

/**
 * Our own design. Woad arms grow from the left and the right edge by turns and wind themselves up into a square
 * standing on its corner; what is left between them is one undyed path of even breadth that runs through the whole
 * band. Picks 33 to 64 are picks 1 to 32 in the mirror.
 *
 * Designed on a lattice of small squares on their corners, each four tablets wide and four picks high. An arm goes
 * seven squares in, then 6, 6, 4, 2 and 2 round the corners; every square that touches no arm was filled with woad.
 * Double face, each tablet turned for itself: neighbours change colour one pick apart, which gives the slope. The
 * turns were found from that face by a search, tablet by tablet, for the fewest reversals in which each direction is
 * kept for at least two picks, so no float is longer than three. The borders go four forward, four back.
 */
export const meander: Draft = {
  title: 'Diagonal meander',
  colours: { woad: palette.woad, undyed: palette.undyed, madder: palette.madder },
  weft: 'madder',
  tablets: [
    ...border(['madder', 'madder']),
    ...pattern(['woad', 'woad', 'undyed', 'undyed'], `${'SZ'.repeat(16)}S`, 'ADADABABADADADADABABADADABABADADA'),
    ...border(['madder', 'madder']),
  ],
  picks: [
    '2F 1B 1F 1B 5F 1B 1F 1B 3F 1B 1F 1B 5F 1B 1F 1B 5F 1B 1F 1B 2F',
    '2F 3B 2F 1B 2F 3B 3F 3B 2F 1B 2F 3B 2F 1B 2F 3B 2F',
    '3F 1B 2F 3B 2F 1B 2F 1B 1F 2B 2F 3B 2F 1B 2F 3B 2F 1B 3F',
    '6F 1B 1F 1B 5F 4B 2F 1B 1F 1B 5F 1B 1F 1B 6F',
    '2B 2F 1B 1F 1B 5F 1B 1F 2B 1F 1B 4F 1B 1F 1B 5F 1B 1F 1B 2F 2B',
    '2B 2F 3B 2F 1B 2F 4B 3F 1B 2F 3B 2F 1B 2F 3B 2F 2B',
    '3B 1F 2B 3F 2B 1F 2B 1F 1B 2F 2B 3F 2B 1F 2B 3F 2B 1F 3B',
    '6B 1F 1B 1F 5B 4F 2B 1F 1B 1F 5B 1F 1B 1F 6B',
    '3F 1B 1F 1B 1F 5B 1F 1B 2F 1B 1F 4B 1F 1B 1F 5B 1F 1B 1F 2B 2F',
    '7F 2B 1F 2B 4F 3B 1F 2B 3F 2B 1F 2B 3F 2B 2F',
    '2F 1B 1F 1B 1F 3B 2F 1B 2F 1B 1F 2B 2F 3B 2F 1B 2F 3B 2F 1B 3F',
    '2F 5B 1F 1B 5F 4B 2F 1B 1F 1B 5F 1B 1F 1B 6F',
    '2B 1F 1B 1F 1B 6F 1B 1F 2B 1F 1B 4F 1B 1F 1B 5F 1B 1F 1B 2F 2B',
    '2B 5F 1B 1F 1B 2F 4B 3F 1B 2F 3B 2F 1B 2F 3B 2F 2B',
    '3B 1F 1B 1F 5B 1F 2B 1F 1B 2F 2B 3F 2B 1F 2B 3F 2B 1F 3B',
    '7B 1F 1B 1F 4B 4F 2B 1F 1B 1F 5B 1F 1B 1F 6B',
    '3F 1B 1F 1B 5F 1B 1F 1B 2F 1B 1F 4B 1F 1B 1F 5B 1F 1B 1F 1B 3F',
    '7F 1B 1F 1B 6F 3B 1F 2B 3F 2B 1F 2B 7F',
    '2F 1B 1F 1B 1F 5B 1F 1B 1F 1B 2F 1B 2F 3B 2F 1B 2F 3B 1F 1B 1F 1B 2F',
    '2F 5B 1F 1B 1F 5B 5F 1B 1F 1B 5F 1B 1F 5B 2F',
    '2B 1F 1B 1F 1B 5F 1B 1F 2B 1F 1B 5F 1B 1F 1B 6F 1B 1F 1B 1F 2B',
    '2B 5F 1B 1F 1B 3F 4B 2F 1B 2F 3B 2F 1B 1F 1B 5F 2B',
    '3B 1F 1B 1F 5B 2F 1B 1F 2B 1F 2B 3F 1B 2F 5B 1F 1B 1F 3B',
    '7B 1F 1B 1F 1B 4F 5B 1F 1B 4F 1B 1F 1B 1F 7B',
    '3F 1B 1F 1B 4F 1B 1F 1B 2F 1B 1F 5B 2F 1B 1F 1B 4F 1B 1F 1B 3F',
    '7F 1B 2F 3B 4F 2B 1F 2B 2F 3B 2F 1B 7F',
    '2F 1B 1F 1B 1F 2B 3F 2B 1F 1B 2F 1B 2F 3B 1F 2B 3F 2B 1F 1B 1F 1B 2F',
    '2F 6B 1F 1B 1F 4B 5F 1B 1F 4B 1F 1B 1F 6B 2F',
    '2B 1F 1B 1F 5B 1F 1B 1F 2B 1F 1B 5F 2B 1F 1B 1F 5B 1F 1B 1F 2B',
    '2B 3F 2B 1F 2B 3F 4B 2F 1B 2F 2B 3F 2B 1F 2B 3F 2B',
    '3B 2F 1B 2F 3B 2F 1B 1F 2B 1F 2B 3F 1B 2F 3B 2F 1B 2F 3B',
    '3B 5F 1B 1F 1B 4F 5B 1F 1B 4F 1B 1F 1B 5F 3B',
    '2F 1B 1F 1B 5F 1B 1F 1B 2F 1B 1F 5B 2F 1B 1F 1B 5F 1B 1F 1B 2F',
    '2F 3B 2F 1B 2F 3B 4F 2B 1F 2B 2F 3B 2F 1B 2F 3B 2F',
    '3F 1B 2F 3B 2F 1B 2F 1B 1F 2B 2F 3B 2F 1B 2F 3B 2F 1B 3F',
    '6F 1B 1F 1B 5F 4B 2F 1B 1F 1B 5F 1B 1F 1B 6F',
    '2B 2F 1B 1F 1B 5F 1B 1F 2B 1F 1B 4F 1B 1F 1B 5F 1B 1F 1B 2F 2B',
    '2B 2F 3B 2F 1B 2F 4B 3F 1B 2F 3B 2F 1B 2F 3B 2F 2B',
    '3B 1F 2B 3F 2B 1F 2B 1F 1B 2F 2B 3F 2B 1F 2B 3F 2B 1F 3B',
    '6B 1F 1B 1F 5B 4F 2B 1F 1B 1F 5B 1F 1B 1F 6B',
    '2F 2B 1F 1B 1F 5B 1F 1B 2F 1B 1F 4B 1F 1B 1F 5B 1F 1B 1F 1B 3F',
    '2F 2B 3F 2B 1F 2B 4F 3B 1F 2B 3F 2B 1F 2B 7F',
    '3F 1B 2F 3B 2F 1B 2F 1B 1F 2B 2F 3B 2F 1B 2F 3B 1F 1B 1F 1B 2F',
    '6F 1B 1F 1B 5F 4B 2F 1B 1F 1B 5F 1B 1F 5B 2F',
    '2B 2F 1B 1F 1B 5F 1B 1F 2B 1F 1B 4F 1B 1F 1B 6F 1B 1F 1B 1F 2B',
    '2B 2F 3B 2F 1B 2F 4B 3F 1B 2F 3B 2F 1B 1F 1B 5F 2B',
    '3B 1F 2B 3F 2B 1F 2B 1F 1B 2F 2B 3F 2B 1F 5B 1F 1B 1F 3B',
    '6B 1F 1B 1F 5B 4F 2B 1F 1B 1F 4B 1F 1B 1F 7B',
    '3F 1B 1F 1B 1F 5B 1F 1B 2F 1B 1F 4B 1F 1B 1F 1B 5F 1B 1F 1B 3F',
    '7F 2B 1F 2B 4F 3B 1F 2B 5F 1B 1F 1B 7F',
    '2F 1B 1F 1B 1F 3B 2F 1B 2F 1B 1F 2B 3F 2B 1F 1B 1F 5B 1F 1B 1F 1B 2F',
    '2F 5B 1F 1B 5F 4B 1F 1B 1F 6B 1F 1B 1F 5B 2F',
    '2B 1F 1B 1F 1B 6F 1B 1F 2B 1F 1B 1F 5B 1F 1B 5F 1B 1F 1B 1F 2B',
    '2B 5F 1B 1F 1B 2F 4B 3F 2B 1F 2B 3F 1B 1F 1B 5F 2B',
    '3B 1F 1B 1F 5B 2F 1B 1F 1B 2F 3B 2F 1B 2F 5B 1F 1B 1F 3B',
    '7B 1F 1B 1F 1B 7F 1B 1F 1B 5F 1B 1F 1B 1F 7B',
    '3F 1B 1F 1B 4F 1B 1F 1B 3F 1B 1F 1B 5F 1B 1F 1B 4F 1B 1F 1B 3F',
    '7F 1B 2F 3B 3F 3B 2F 1B 2F 3B 2F 1B 7F',
    '2F 1B 1F 1B 1F 2B 3F 2B 1F 1B 1F 2B 3F 2B 1F 2B 3F 2B 1F 1B 1F 1B 2F',
    '2F 6B 1F 1B 1F 7B 1F 1B 1F 5B 1F 1B 1F 6B 2F',
    '2B 1F 1B 1F 5B 1F 1B 1F 3B 1F 1B 1F 5B 1F 1B 1F 5B 1F 1B 1F 2B',
    '2B 3F 2B 1F 2B 3F 3B 3F 2B 1F 2B 3F 2B 1F 2B 3F 2B',
    '3B 2F 1B 2F 3B 2F 1B 1F 1B 2F 3B 2F 1B 2F 3B 2F 1B 2F 3B',
    '3B 5F 1B 1F 1B 7F 1B 1F 1B 5F 1B 1F 1B 5F 3B',
  ],
}
