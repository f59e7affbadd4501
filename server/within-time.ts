import { createContext, Script } from 'node:vm'

const box = createContext({ work: undefined })
const call = new Script('work()')

/** How often work is begun again that was stopped while the machine was busy with something else. */
const TRIES = 4

/**
 * Synchronous work that is stopped when it takes longer. Only V8 can stop a loop or a regular expression that runs, and
 * `node:vm` is Node's way to ask it; the work itself runs as it always does. It must leave nothing half done behind.
 * The clock that stops it runs on while a busy machine gives the process no turn; work that had less of the processor
 * than its time is not too long for that, and is begun again.
 */
export function withinTime<T>(ms: number, work: () => T): { inTime: true; value: T } | { inTime: false } {
  box.work = work
  try {
    for (let attempt = 1; ; attempt += 1) {
      const before = process.cpuUsage()
      try {
        return { inTime: true, value: call.runInContext(box, { timeout: ms }) as T }
      } catch (error) {
        // Made in the other context, so it is no `Error` of ours.
        if ((error as { code?: unknown } | null)?.code !== 'ERR_SCRIPT_EXECUTION_TIMEOUT') throw error
        const { user, system } = process.cpuUsage(before)
        if (attempt === TRIES || (user + system) / 1000 > ms * 0.8) return { inTime: false }
      }
    }
  } finally {
    box.work = undefined
  }
}
