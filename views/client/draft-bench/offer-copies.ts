import { canonicalDraft, readDraft } from '../../../shared/draft/document.ts'
import type { Draft } from '../../../shared/draft/draft.ts'
import { benchOf } from '../../../shared/draft/edit/bench.ts'
import { type Edit, layWhole } from '../../../shared/draft/edit/step.ts'
import { sayCount } from '../../../shared/draft/number-words.ts'
import type { Desk } from './desk.ts'
import type { CopyShelf } from './local-copy.ts'
import { ask, timeOf } from './notice.ts'

/** Whether two drafts say the same; the title is the notebook's, whatever a copy calls it. */
export const saysTheSame = (one: Draft, other: Draft): boolean => bodyOf(one) === bodyOf(other)

const bodyOf = (draft: Draft) => JSON.stringify({ ...canonicalDraft(draft), title: '' })

/**
 * What earlier visits could not hand over is offered, never laid over silently. Until that is answered each stays in
 * this browser, whatever is done on the bench meanwhile.
 * @param taken gets the edit that laid a copy on the bench, and what takes it out of this browser once that is kept
 */
export async function offerCopies(
  shelf: CopyShelf,
  opened: Draft,
  notices: HTMLElement,
  desk: Desk,
  taken: (edit: Edit, clear: () => void) => void,
): Promise<void> {
  const left = await shelf.listLeft()
  if (left.length === 0) return
  const seen = new Set([bodyOf(opened)])
  for (const { value, clear } of left) {
    const read = readDraft(value.document)
    // What cannot be read by this version is not offered, and not thrown away either.
    if (!read.ok) continue
    const body = bodyOf(read.draft)
    if (seen.has(body)) {
      clear()
      continue
    }
    seen.add(body)
    const takeUp = () => {
      const copy = benchOf({ ...read.draft, title: desk.bench.title })
      const edit = layWhole(desk.bench, copy, 'the copy of this browser')
      desk.make(edit)
      desk.settle()
      taken(edit, clear)
    }
    const size = `${sayCount(read.draft.tablets.length, 'tablet')}, ${sayCount(read.draft.picks.length, 'pick')}`
    ask(notices, `This browser holds a copy of ${timeOf(value.savedAt)} that the notebook never got: ${size}.`, [
      ['Take it up', takeUp],
      ['Throw it away', clear],
    ])
  }
}
