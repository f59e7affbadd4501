import { sayUnsaid } from '../../shared/draft/convention/say.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { pictureAddress } from '../draft/pages.ts'
import { sayBand } from '../draft/picture.ts'
import type { NotebookDraft } from '../draft/queries.ts'
import type { Revision } from '../draft/revision-queries.ts'
import { type Originals, originalSpec } from '../draft/fields.ts'
import { formFields, type FieldView, problemList } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { BeginEntered } from './form.ts'
import type { WorkingCopy } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft-bench/show': DraftBenchPage
    'draft-bench/begin': DraftBenchBeginPage
  }
}

interface DraftBenchPage extends PageHead {
  readonly id: number
  readonly heading: string
  readonly lead: string
  /** Where nobody has said by which convention it was typed in. */
  readonly unsaid: string
  /** Of whose local copies the browser may speak. */
  readonly whose: string
  /** What is said of the working copy; empty when there is none. */
  readonly copy: string
  /** Without script: the newest revision drawn. */
  readonly picture: { readonly src: string; readonly alt: string }
}

export function draftBenchPage(
  draft: NotebookDraft,
  newest: Revision,
  copy: WorkingCopy | undefined,
  { sayTime, notice }: { readonly sayTime: (instant: string) => string; readonly notice: string },
): DraftBenchPage {
  return {
    title: `${draft.title} on the bench`,
    section: 'drafts',
    scripts: ['draft-bench'],
    notice,
    id: draft.id,
    heading: draft.title,
    lead: `${sayCount(newest.tablets, 'tablet')}, ${sayCount(newest.picks, 'pick')} in revision ${newest.number}`,
    unsaid: sayUnsaid(draft.written).trim(),
    whose: String(currentMemberId() ?? 'lone'),
    copy: copy ? sayCopy(copy, newest.number, sayTime(copy.savedAt)) : '',
    picture: {
      src: pictureAddress(newest)('face', { lie: 'across' }),
      alt: sayBand('face', newest.draft, newest.picks),
    },
  }
}

function sayCopy({ base }: WorkingCopy, newest: number, time: string): string {
  const begun = `This is your working copy of ${time}, begun from revision ${base}; it is no revision yet.`
  return base === newest
    ? begun
    : `${begun} Revision ${newest} has come since; saving yours makes a further one, and both stay.`
}

interface DraftBenchBeginPage extends PageHead {
  readonly fields: Record<keyof BeginEntered, FieldView>
  readonly problems: readonly { href: string; text: string }[]
}

export const BLANK_BEGIN: BeginEntered = { title: '', original: '', tablets: '12', picks: '24' }

export function draftBenchBeginPage(
  entered: BeginEntered,
  originals: Originals,
  problems: Problems<BeginEntered> = {},
): DraftBenchBeginPage {
  const fields = formFields(
    {
      title: { label: 'Title', required: true },
      original: originalSpec(originals),
      tablets: { label: 'Tablets', required: true, inputmode: 'numeric' },
      picks: { label: 'Picks in the repeat', required: true, inputmode: 'numeric' },
    },
    entered,
    problems,
  )
  return { title: 'Begin a draft on the bench', section: 'drafts', fields, problems: problemList(fields) }
}
