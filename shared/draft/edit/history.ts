import { type Bench } from './bench.ts'
import { applyEdit, type Edit, invertEdit, joinEdits } from './step.ts'

/** A list whose tail is shared by every longer one, so that going back costs nothing. */
interface Stack {
  readonly edit: Edit
  readonly below: Stack | undefined
}

/** What was done and what was undone, without end. Only changes are kept, never whole drafts. */
export interface History {
  readonly done: Stack | undefined
  readonly undone: Stack | undefined
}

export const NO_HISTORY: History = { done: undefined, undone: undefined }

/** The bench after a move in its history, with the edit that led there, as `followEdit` wants it. */
export interface Moved {
  readonly bench: Bench
  readonly history: History
  readonly edit: Edit
}

/**
 * Keeps an edit that was made; what had been undone is gone.
 * @param joins whether it goes on with the edit before it, as one stroke of the hand
 */
export function remember(history: History, edit: Edit, joins = false): History {
  const { done } = history
  if (joins && done) return { done: { edit: joinEdits(done.edit, edit), below: done.below }, undone: undefined }
  return { done: { edit, below: done }, undone: undefined }
}

/**
 * Takes back the last edit.
 * @returns undefined when nothing is left to take back
 * @example undo(bench, NO_HISTORY) // undefined
 */
export function undo(bench: Bench, { done, undone }: History): Moved | undefined {
  if (!done) return undefined
  const edit = invertEdit(done.edit)
  return {
    bench: applyEdit(bench, edit),
    history: { done: done.below, undone: { edit: done.edit, below: undone } },
    edit,
  }
}

/**
 * Does again what was taken back last.
 * @returns undefined when nothing is left to do again
 */
export function redo(bench: Bench, { done, undone }: History): Moved | undefined {
  if (!undone) return undefined
  const { edit, below } = undone
  return { bench: applyEdit(bench, edit), history: { done: { edit, below: done }, undone: below }, edit }
}
