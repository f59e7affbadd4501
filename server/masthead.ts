import { findViewer, isAlone } from './rights/viewer.ts'

/** What the frame of a page shows to whoever asks. */
export interface Masthead {
  /** The sections and the search: for everybody who may come in. */
  readonly showsNotebook: boolean
  /** Of the lone maker, who needs no account. */
  readonly isLone: boolean
  /** Whose words the browser may keep, and speak of: a member's number; empty for who has not signed in. */
  readonly whose: string
  /** Of who has signed in; empty for everybody else. */
  readonly memberName: string
  readonly isKeeper: boolean
  /** Whether they have a bin: guests make nothing, so they throw nothing away. */
  readonly mayThrowAway: boolean
}

export function mastheadOf(): Masthead {
  const viewer = findViewer()
  const isLone = viewer !== undefined && isAlone(viewer)
  const member = viewer?.kind === 'member' ? viewer : undefined
  return {
    showsNotebook: isLone || member !== undefined,
    isLone,
    // The lone maker becomes the first member, and what they have begun stays theirs.
    whose: member ? String(member.id) : isLone ? '1' : '',
    memberName: member?.name ?? '',
    isKeeper: member?.role === 'keeper',
    mayThrowAway: isLone || (member !== undefined && member.role !== 'guest'),
  }
}
