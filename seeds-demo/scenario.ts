import { drafts, firstDrafts } from './draft/draft.ts'
import { originals } from './original.ts'
import { pieces } from './piece.ts'
import { sources } from './source.ts'
import { yarns } from './yarn.ts'

/**
 * The demo collection. All of it is invented for this program: the region of Orrowmere, its museum and chapel, the
 * finds, the publications, letters and visits, the guild, the people and the two makers, every measured value and
 * every minute. The five drafts are our own designs. Whatever is like a real place, person, textile or pattern is so by
 * chance.
 *
 * The story: Ineth Vallow weaves from Saltwithy, Kelderhow and Drennet Pool, half as wide again, just right, too fine
 * (given up), too small. Corrin Haskeld weaves the Tessary pike and measures it once, keeps a teaching band on the
 * guild's wall, and finishes a commission in the night in which the clocks go back.
 */
export const scenario = { sources, originals, drafts, firstDrafts, pieces, yarns }
