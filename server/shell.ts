import { AsyncLocalStorage } from 'node:async_hooks'
import type { Look } from './look/look.ts'

/** What the frame of a page needs from the request, whichever page it is. */
export interface Shell {
  /** The version that an edit form was opened on. */
  readonly version?: number
  /** What the row's version must still be when the form is written; undefined for a form that carries none. */
  readonly expected?: number
  /** Where the button goes that takes back what was just thrown away. */
  readonly undo?: string
  /** How pages look in this browser. */
  readonly look?: Look
}

const shells = new AsyncLocalStorage<Shell>()

/** What is said of the frame further in is added to what was said before. */
export const withShell = <T>(shell: Shell, work: () => T): T => shells.run({ ...currentShell(), ...shell }, work)

export const currentShell = (): Shell => shells.getStore() ?? {}
