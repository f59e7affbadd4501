import { Temporal } from 'temporal-polyfill'

/** Of a local time that comes twice in the night when the clocks go back. */
export type Which = 'first' | 'second'

/** What a time on the clock of a place stands for: one instant, two, or none. Instants are ISO in UTC, to the second. */
export type LocalTime =
  | { readonly kind: 'once'; readonly at: string }
  | { readonly kind: 'twice'; readonly first: string; readonly second: string }
  /** The clock went straight `from` one local time `to` another, past this one; `2026-03-29 02:00`. */
  | { readonly kind: 'skipped'; readonly from: string; readonly to: string }

/**
 * The instant of a local day and time, by the zone's own clock changes.
 * @param day `2026-10-25`
 * @param time `02:30`
 * @param zone IANA name that `isZone` knows
 * @example toInstants('2026-10-25', '02:30', 'Europe/Berlin') // twice: 00:30Z and 01:30Z
 * @example toInstants('2026-03-29', '02:30', 'Europe/Berlin') // skipped, from 02:00 to 03:00
 */
export function toInstants(day: string, time: string, zone: string): LocalTime {
  const local = Temporal.PlainDateTime.from(`${day}T${time}`)
  const earlier = local.toZonedDateTime(zone, { disambiguation: 'earlier' })
  const later = local.toZonedDateTime(zone, { disambiguation: 'later' })
  const [first, second] = [earlier.toInstant().toString(), later.toInstant().toString()]
  if (first === second) return { kind: 'once', at: first }
  if (earlier.toPlainDateTime().equals(local)) return { kind: 'twice', first, second }
  const change = earlier.getTimeZoneTransition('next')
  if (!change) throw new Error(`No clock change of ${zone} explains that ${day} ${time} is skipped`)
  const putForward = later.offsetNanoseconds - earlier.offsetNanoseconds
  const from = change.toPlainDateTime().subtract({ nanoseconds: putForward })
  return { kind: 'skipped', from: toClock(from), to: toClock(change.toPlainDateTime()) }
}

/** Elapsed minutes, by the instants and not by what the clock showed; whole, since times are typed to the minute. */
export function minutesBetween(startedAt: string, endedAt: string): number {
  const passed = Temporal.Instant.from(startedAt).until(endedAt)
  return Math.round(passed.total('minutes'))
}

export function addMinutes(at: string, minutes: number): string {
  return Temporal.Instant.from(at).add({ minutes }).toString()
}

export const nextDayOf = (day: string) => Temporal.PlainDate.from(day).add({ days: 1 }).toString()

/** Day and time that the clock of the zone shows, and which of two such times it is where it comes twice. */
export function toLocal(at: string, zone: string): { day: string; time: string; which: Which | '' } {
  const shown = Temporal.Instant.from(at).toZonedDateTimeISO(zone)
  const [day, time] = [shown.toPlainDate().toString(), shown.toPlainTime().toString({ smallestUnit: 'minute' })]
  const meant = toInstants(day, time, zone)
  return { day, time, which: meant.kind === 'twice' ? (meant.first === at ? 'first' : 'second') : '' }
}

/** `UTC+01:00`, for telling two times of the same name apart. */
export function offsetOf(at: string, zone: string): string {
  return `UTC${Temporal.Instant.from(at).toZonedDateTimeISO(zone).offset}`
}

/** Local day and time with the offset, to the second: `2026-10-25T02:30:00+01:00`. */
export function toLocalStamp(at: string, zone: string): string {
  const shown = Temporal.Instant.from(at).toZonedDateTimeISO(zone)
  return shown.toString({ timeZoneName: 'never', smallestUnit: 'second' })
}

/** Whether the machine's own zone data know this IANA name. Bare offsets are refused: they know no clock changes. */
export function isZone(name: string): boolean {
  if (!/^[A-Za-z_]+(\/[A-Za-z0-9_+-]+)*$/.test(name)) return false
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(name)
    return true
  } catch (error) {
    if (error instanceof RangeError) return false
    throw error
  }
}

const toClock = (local: Temporal.PlainDateTime) => local.toString({ smallestUnit: 'minute' }).replace('T', ' ')
