/** A form that was sent from this tab, and whose answer is awaited. */
interface Sent {
  /** Where its words lie, and those of forms that came before it. */
  readonly places: readonly string[]
  readonly action: string
  /** The page that it was sent from. */
  readonly from: string
}

const NAME = 'fellmark sent'
const here = () => location.href.replace(/#.*/, '')

/** Remembers over the next page what was sent. */
export function noteSent(places: readonly string[], action: string): void {
  write({ places, action, from: here() })
}

/** The same words sent once more from another page: signed in again, or brought together with somebody else's. */
export function followSent(action: string): void {
  const sent = read()
  if (sent?.action === action) write({ ...sent, from: here() })
}

/**
 * Places of words that were sent and are saved. The program answers a form that it took by leading on to another page;
 * what it refuses, and what never arrives, does not lead anywhere.
 */
export function takeSaved(): readonly string[] {
  const sent = read()
  const [arrival] = performance.getEntriesByType('navigation') as PerformanceNavigationTiming[]
  const wasLedOn = arrival?.type === 'navigate' && arrival.redirectCount > 0 && document.referrer === sent?.from
  if (!sent || !wasLedOn) return []
  write(undefined)
  return sent.places
}

function read(): Sent | undefined {
  try {
    return (JSON.parse(sessionStorage.getItem(NAME) ?? 'null') as Sent | null) ?? undefined
  } catch {
    return undefined
  }
}

function write(sent: Sent | undefined): void {
  try {
    if (sent) sessionStorage.setItem(NAME, JSON.stringify(sent))
    else sessionStorage.removeItem(NAME)
  } catch {
    // Then what was saved is offered once more, and says that it was sent.
  }
}
