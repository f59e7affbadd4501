import type { Draft } from '../../shared/draft/draft.ts'
import { chevron } from './chevron.ts'
import { fret } from './fret.ts'
import { lozenge } from './lozenge.ts'
import { meander } from './meander.ts'
import { pike } from './pike.ts'

/** The five drafts of the demo collection, by the keys that pieces name. */
export const drafts = { chevron, fret, lozenge, meander, pike } satisfies Record<string, Draft>

export type DraftKey = keyof typeof drafts
