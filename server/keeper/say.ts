const DAY_MS = 86_400_000

/** `today at 01:12`, `yesterday at 23:40`, `3 November 2026 at 01:12`, on the keeper's clock. */
export function sayWhen(at: Date, now: Date, zone: string): string {
  const time = new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' }).format(at)
  const days = dayNumber(now, zone) - dayNumber(at, zone)
  const near: Readonly<Record<string, string>> = { '0': 'today', '1': 'yesterday', '-1': 'tomorrow' }
  return `${near[String(days)] ?? sayDay(at, zone)} at ${time}`
}

const sayDay = (at: Date, zone: string) =>
  new Intl.DateTimeFormat('en-GB', { timeZone: zone, day: 'numeric', month: 'long', year: 'numeric' }).format(at)

/** Days since the epoch of the local day, so that a change of clocks counts as no part of one. */
function dayNumber(at: Date, zone: string): number {
  const day = new Intl.DateTimeFormat('sv-SE', { timeZone: zone }).format(at)
  return Date.parse(`${day}T00:00:00Z`) / DAY_MS
}
