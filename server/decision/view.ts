import { dayInWords } from '../../shared/work/time-words.ts'
import type { Db } from '../db/open.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { listDecisions, type DecisionSubject } from './queries.ts'

/** The decisions about an original or a piece, as the part `decisions` shows them. */
export interface DecisionsView {
  readonly noun: DecisionSubject['noun']
  readonly decisions: readonly {
    readonly id: number
    readonly question: string
    readonly decided: string
    readonly evidence: string
    readonly considered: string
    /** "14 March 2026, by Ida". */
    readonly when: string
    readonly editPath: string
  }[]
  /** Empty for who may not write one. */
  readonly newPath: string
}

export function decisionsView(db: Db, subject: DecisionSubject): DecisionsView {
  const mayEdit = viewerMayEdit(db, subject.noun, subject.id)
  return {
    noun: subject.noun,
    decisions: listDecisions(db, subject).map(({ id, question, decided, evidence, considered, onDay, decidedBy }) => ({
      ...{ id, question, decided, evidence, considered },
      when: [dayInWords(onDay), decidedBy && `by ${decidedBy}`].filter(Boolean).join(', '),
      editPath: mayEdit ? `/decisions/${id}/edit` : '',
    })),
    newPath: mayEdit ? `/${subject.noun}s/${subject.id}/decisions/new` : '',
  }
}
