/** The days that a piece's life is told by, `2026-03-14`; undefined where it has not come so far, or nobody noted it. */
export interface PieceDays {
  readonly plannedOn?: string | undefined
  readonly onLoomOn?: string | undefined
  readonly wovenOn?: string | undefined
  readonly finishedOn?: string | undefined
  readonly setAsideOn?: string | undefined
}

/** How far a piece has come, in the order of the work; set aside stands apart. */
export const PIECE_STATUSES = ['planned', 'onLoom', 'woven', 'finished', 'setAside'] as const
export type PieceStatus = (typeof PIECE_STATUSES)[number]

/** How pages name them. */
export const PIECE_STATUS_LABELS: Readonly<Record<PieceStatus, string>> = {
  planned: 'planned',
  onLoom: 'on the loom',
  woven: 'woven',
  finished: 'finished',
  setAside: 'set aside',
}

/** The days in the order in which they must follow each other. */
const COURSE = ['plannedOn', 'onLoomOn', 'wovenOn', 'finishedOn'] as const
const STATUS_OF: Readonly<Record<(typeof COURSE)[number], PieceStatus>> = {
  plannedOn: 'planned',
  onLoomOn: 'onLoom',
  wovenOn: 'woven',
  finishedOn: 'finished',
}

/**
 * What a piece is, from the days that are true of it: the furthest it has come. It is set aside when that is the last
 * thing that happened to it; a piece put on the loom, woven or finished on a later day was taken up again.
 * @param days of one piece, each `2026-03-14`
 * @returns the status and the day since which it holds; without any day it is planned, since nobody knows when
 * @throws RangeError when a day is not written as year-month-day
 * @example pieceStatus({ onLoomOn: '2026-03-01', setAsideOn: '2026-04-02' }) // { status: 'setAside', on: '2026-04-02' }
 * @example pieceStatus({ setAsideOn: '2026-04-02', wovenOn: '2026-05-09' }) // woven: it was taken up again
 * @example pieceStatus({ onLoomOn: '2026-03-01', setAsideOn: '2026-03-01' }) // set aside: the same day decides nothing else
 * Source: our own.
 */
export function pieceStatus(days: PieceDays): { status: PieceStatus; on: string | undefined } {
  for (const [name, day] of Object.entries(days)) requireDay(name, day)
  const { setAsideOn } = days
  const last = COURSE.findLast((name) => days[name] !== undefined)
  const latest = COURSE.map((name) => days[name] ?? '').reduce((a, b) => (a > b ? a : b))
  if (setAsideOn !== undefined && setAsideOn >= latest) return { status: 'setAside', on: setAsideOn }
  return last === undefined ? { status: 'planned', on: undefined } : { status: STATUS_OF[last], on: days[last] }
}

/**
 * Days that cannot follow each other: each one that lies before a day it must come after. Setting aside may come
 * at any time after the planning, but not after the finish: a finished piece can no longer be given up.
 * @param days of one piece, each `2026-03-14`
 * @returns pairs of names, the one to complain about first; empty when all is in order, the same day twice included
 * @throws RangeError when a day is not written as year-month-day
 * @example listDayConflicts({ wovenOn: '2026-05-09', finishedOn: '2026-05-01' }) // [{ day: 'finishedOn', before: 'wovenOn' }]
 * @example listDayConflicts({ finishedOn: '2026-05-01', setAsideOn: '2026-05-02' }) // [{ day: 'finishedOn', before: 'setAsideOn' }]
 * Source: our own.
 */
export function listDayConflicts(days: PieceDays): { day: keyof PieceDays; before: keyof PieceDays }[] {
  for (const [name, day] of Object.entries(days)) requireDay(name, day)
  const conflicts: { day: keyof PieceDays; before: keyof PieceDays }[] = []
  const check = (day: keyof PieceDays, before: keyof PieceDays) => {
    const [later, earlier] = [days[day], days[before]]
    if (later !== undefined && earlier !== undefined && later < earlier) conflicts.push({ day, before })
  }
  COURSE.forEach((day, at) => {
    const earlier = COURSE.slice(0, at).findLast((name) => days[name] !== undefined)
    if (earlier) check(day, earlier)
  })
  check('setAsideOn', 'plannedOn')
  check('finishedOn', 'setAsideOn')
  return conflicts
}

function requireDay(name: string, day: string | undefined): void {
  if (day !== undefined && !/^\d{4}-\d{2}-\d{2}$/.test(day))
    throw new RangeError(`${name} must be a day such as 2026-03-14, not ${JSON.stringify(day)}`)
}
