import { createContext, Script } from 'node:vm'

const box = createContext({ work: undefined })
const call = new Script('work()')

/**
 * Synchronous work that is stopped when it takes longer. Only V8 can stop a loop or a regular expression that runs, and
 * `node:vm` is Node's way to ask it; the work itself runs as it always does. It must leave nothing half done behind.
 */
export function withinTime<T>(ms: number, work: () => T): { inTime: true; value: T } | { inTime: false } {
  box.work = work
  try {
    return { inTime: true, value: call.runInContext(box, { timeout: ms }) as T }
  } catch (error) {
    // Made in the other context, so it is no `Error` of ours.
    if ((error as { code?: unknown } | null)?.code === 'ERR_SCRIPT_EXECUTION_TIMEOUT') return { inTime: false }
    throw error
  } finally {
    box.work = undefined
  }
}
