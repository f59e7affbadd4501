import { AsyncLocalStorage } from 'node:async_hooks'
import type { Role } from '../db/tables.ts'

/**
 * Who is asking. `lone`: the one maker of a notebook without members, on this machine; `program`: nobody, the program
 * itself at its start, in a command or a test; `anonymous`: somebody who has not signed in.
 */
export type Viewer =
  | { readonly kind: 'lone' | 'program' | 'anonymous' }
  | { readonly kind: 'member'; readonly id: number; readonly name: string; readonly role: Role }

export const LONE: Viewer = { kind: 'lone' }
export const PROGRAM: Viewer = { kind: 'program' }
export const ANONYMOUS: Viewer = { kind: 'anonymous' }

// Carried beside the call rather than through every argument: so no query and no handler can forget to ask whose it is.
const asking = new AsyncLocalStorage<Viewer>()
let otherwise: Viewer | undefined

/** Runs `work` for this viewer; everything it calls sees the same one. */
export function asViewer<T>(viewer: Viewer, work: () => T): T {
  return asking.run(viewer, work)
}

/**
 * Where nobody asks over HTTP (commands, tests) the program may do everything. The server never calls this: a request
 * that lost its viewer on the way must fail, not see all.
 */
export function letProgramAct(): void {
  otherwise = PROGRAM
}

/** Who is asking, where a page may be shown before that is known: an error page. */
export const findViewer = (): Viewer | undefined => asking.getStore()

/** @throws Error outside of a request, unless the program may act by itself */
export function currentViewer(): Viewer {
  const viewer = asking.getStore() ?? otherwise
  if (!viewer) throw new Error('Nobody is asking: a query ran outside of a request')
  return viewer
}

/** For the log of changes, and the owner of what is made; null for the lone maker and the program. */
export function currentMemberId(): number | null {
  const viewer = asking.getStore() ?? otherwise
  return viewer?.kind === 'member' ? viewer.id : null
}

/** Whether everything is open to this viewer, because there is nobody else. */
export const isAlone = (viewer: Viewer): boolean => viewer.kind === 'lone' || viewer.kind === 'program'
