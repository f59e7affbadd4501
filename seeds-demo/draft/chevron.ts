import type { Draft } from '../../shared/draft/draft.ts'
import { border, palette, pattern } from './thread.ts'

/**
 * Our own design. The pattern is all in the threading: each tablet starts one hole later than its neighbour, so the
 * four colours climb one pick a tablet, to the right over five tablets threaded S, then to the left over five
 * threaded Z, twice. The stitch of each tablet leans the way its colour climbs, which is why the edges are smooth.
 * Every tablet turns forward at every pick: nothing could be easier to weave, and all the twist stays in the warp.
 */
export const chevron: Draft = {
  title: 'Chevrons in four colours',
  colours: { madder: palette.madder, weld: palette.weld, undyed: palette.undyed, walnut: palette.walnut },
  weft: 'walnut',
  tablets: [
    ...border(['walnut', 'walnut']),
    ...pattern(['madder', 'weld', 'undyed', 'walnut'], 'SSSSSZZZZZSSSSSZZZZZ', 'ADCBAABCDAADCBAABCDA'),
    ...border(['walnut', 'walnut']),
  ],
  picks: ['24F', '24F', '24F', '24F'],
}
