/**
 * An instant on the maker's clock: `14:05 on 24 November 2026`.
 * @param instant ISO
 * @param zone IANA
 */
export function saySavedAt(instant: string, zone: string): string {
  const at = new Date(instant)
  const time = new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit' }).format(at)
  const day = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    day: 'numeric',
    month: 'long',
    year: 'numeric',
  }).format(at)
  return `${time} on ${day}`
}
