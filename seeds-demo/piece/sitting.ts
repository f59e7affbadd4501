import type { Stage } from '../../shared/work/stage.ts'
import type { Day, Sitting } from '../type.ts'

/** Both makers live by the same clock. */
const ZONE = 'Europe/Berlin'

type Done = Pick<Sitting, 'picks' | 'repeats' | 'lengthMm'>

/** One sitting on a line: day, start and end on the clock, minutes of breaks, stage, what was done, note. */
export function at(
  date: Day,
  start: string,
  end: string,
  breakMinutes: number,
  stage: Stage,
  done: Done,
  note: string,
): Sitting {
  return { date, start, end, breakMinutes, stage, ...done, note, zone: ZONE }
}
