/** What is worth a line of its own; secrets are never part of one. */
export interface LogEvent {
  readonly event: string
  readonly [key: string]: string | number | boolean | null
}

export type Log = (event: LogEvent) => void

/** One JSON line an event on stderr; JSON keeps a line break in a name from beginning a line of its own. */
export const logToStderr =
  (now: () => Date): Log =>
  (event) =>
    void process.stderr.write(`${JSON.stringify({ at: now().toISOString(), ...event })}\n`)
