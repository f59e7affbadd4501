import type { Draft } from '../../shared/draft/draft.ts'
import { border, palette, pattern } from './thread.ts'

/** All tablets together, `count` picks the same way. */
function together(count: number, turn: 'F' | 'B'): string[] {
  return Array.from({ length: count }, () => `24${turn}`)
}

/**
 * Our own design. Threaded as one great chevron of ten tablets a side and turned as one pack. Each reversal turns the
 * chevrons over, so that what lies between two reversals closes to lozenges: fourteen picks give a large one, six a
 * small one. As many picks forward as back: the repeat leaves no twist behind.
 */
export const lozenge: Draft = {
  title: 'Lozenges within lozenges',
  colours: { madder: palette.madder, weld: palette.weld, undyed: palette.undyed, woad: palette.woad },
  weft: 'woad',
  tablets: [
    ...border(['woad', 'woad']),
    ...pattern(['madder', 'weld', 'undyed', 'woad'], 'SSSSSSSSSSZZZZZZZZZZ', 'ADCBADCBADDABCDABCDA'),
    ...border(['woad', 'woad']),
  ],
  picks: [...together(14, 'F'), ...together(14, 'B'), ...together(6, 'F'), ...together(6, 'B')],
}
