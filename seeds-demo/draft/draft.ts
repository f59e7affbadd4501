import type { Draft } from '../../shared/draft/draft.ts'
import { chevron } from './chevron.ts'
import { fret } from './fret.ts'
import { lozenge } from './lozenge.ts'
import { meander } from './meander.ts'
import { meanderFirst } from './meander-first.ts'
import { pike } from './pike.ts'

/** The five drafts of the demo collection, by the keys that pieces name. */
export const drafts = { chevron, fret, lozenge, meander, pike } satisfies Record<string, Draft>

export type DraftKey = keyof typeof drafts

/** What was mended since a draft was first entered: its revision 1, and the note on revision 2. */
export const firstDrafts: Partial<Record<DraftKey, { readonly draft: Draft; readonly mended: string }>> = {
  meander: {
    draft: meanderFirst,
    mended:
      'Pick 54: tablet 22 turns forward with the arm that it belongs to, “2B 1F 2B” where I had read “5B”. ' +
      'Found on the loom, at the first start.',
  },
}
