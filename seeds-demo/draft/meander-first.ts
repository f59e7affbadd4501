import type { Draft } from '../../shared/draft/draft.ts'
import { meander } from './meander.ts'

/**
 * The meander as it was first typed, with an invented slip: at pick 54 `2B 1F 2B` was read as `5B`, so that tablet 22
 * turns its direction a pick too late. From there on it stands half a turn off and shows the other colour.
 */
export const meanderFirst: Draft = {
  ...meander,
  picks: meander.picks.with(53, '2B 5F 1B 1F 1B 2F 4B 3F 5B 3F 1B 1F 1B 5F 2B'),
}
