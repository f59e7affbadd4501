import { sweepStages } from './staging.ts'

const HOUR_MS = 3_600_000

export interface ScheduleOptions {
  readonly dataDir: string
  readonly now: () => Date
  readonly onBroken: (error: unknown) => void
}

/** Clears away what was sent to be brought in and never was, at once and every hour. @returns stops it */
export function scheduleStages({ dataDir, now, onBroken }: ScheduleOptions): () => void {
  const look = () => {
    try {
      sweepStages(dataDir, now())
    } catch (error) {
      onBroken(error)
    }
  }
  look()
  const timer = setInterval(look, HOUR_MS)
  timer.unref()
  return () => clearInterval(timer)
}
