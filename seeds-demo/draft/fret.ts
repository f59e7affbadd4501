import type { Draft } from '../../shared/draft/draft.ts'
import { border, palette, pattern } from './thread.ts'

/**
 * The wanted face, last pick on top: one sign is two tablets wide and two picks high, `#` is madder. Drawn by us on
 * squared paper so that half a turn with the colours exchanged brings it back onto itself.
 */
export const fretFace: readonly string[] = [
  '##..........',
  '####........',
  '######......',
  '######......',
  '########....',
  '##########..',
  '##......##..',
  '##.####.##..',
  '##.##.#.##..',
  '##..#.#..#..',
  '##..#....#..',
  '##..######..',
]

/**
 * Our own design. Double face: two madder threads beside two weld threads in each pattern tablet, 2F 2B to stay in a
 * colour, on the same way to change it. The turns were found from the wanted face by a search, tablet by tablet, for
 * the fewest reversals in which each direction is kept for at least two picks, so no float is longer than three.
 * Neighbours turn in pairs. The borders go four forward, four back. The tablets in the middle gather twist.
 */
export const fret: Draft = {
  title: 'Stepped fret with a hook',
  colours: { madder: palette.madder, weld: palette.weld, walnut: palette.walnut, undyed: palette.undyed },
  weft: 'walnut',
  tablets: [
    ...border(['walnut', 'walnut', 'undyed', 'walnut']),
    ...pattern(['madder', 'madder', 'weld', 'weld'], 'SZ'.repeat(12), 'A'.repeat(24)),
    ...border(['walnut', 'undyed', 'walnut', 'walnut']),
  ],
  picks: [
    '8F 4B 12F 4B 4F',
    '8F 4B 12F 4B 4F',
    '4F 4B 4F 2B 8F 2B 8F',
    '4F 4B 4F 2B 8F 2B 8F',
    '4B 4F 4B 2F 2B 2F 4B 2F 8B',
    '4B 4F 4B 2F 2B 2F 4B 2F 8B',
    '8B 2F 4B 2F 2B 2F 4B 4F 4B',
    '8B 2F 4B 2F 2B 2F 4B 4F 4B',
    '8F 2B 8F 2B 4F 4B 4F',
    '8F 2B 8F 2B 4F 4B 4F',
    '4F 4B 12F 4B 8F',
    '4F 4B 12F 4B 8F',
    '4B 20F 8B',
    '4B 20F 8B',
    '20B 8F 4B',
    '20B 8F 4B',
    '16F 12B 4F',
    '16F 12B 4F',
    '4F 12B 16F',
    '4F 12B 16F',
    '4B 8F 20B',
    '4B 8F 20B',
    '8B 20F 4B',
    '8B 20F 4B',
  ],
}
