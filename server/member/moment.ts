/** An instant on the maker's clock, "24 November 2026, 13:00". */
export function toMoment(at: string, zone: string): string {
  const day = new Intl.DateTimeFormat('en-GB', { timeZone: zone, day: 'numeric', month: 'long', year: 'numeric' })
  const clock = new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' })
  return `${day.format(new Date(at))}, ${clock.format(new Date(at))}`
}
