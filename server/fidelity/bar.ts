import type { Bounds } from '../../shared/fidelity/relation.ts'
import { toHtml, type Html } from '../pages.ts'

/**
 * Bounds between 0 and 1 as a stretch of a rule: what is sure is full, what is open between the bounds is light, as the
 * style sheet has it, and the rule has a mark at each quarter. The words beside it say the same.
 */
export function boundsBar({ low, high }: Bounds): Html {
  const at = (share: number) => (share * 100).toFixed(1)
  const quarters = [25, 50, 75].map((x) => `<path d="M${x} 0v8"/>`).join('')
  // A likeness that is known exactly is a line, and still to be seen.
  const width = Math.max(high - low, 0.012)
  return toHtml(
    `<svg class="bounds-bar" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true" focusable="false">` +
      `<rect class="bounds-rule" width="100" height="8"/><rect class="bounds-sure" width="${at(low)}" height="8"/>` +
      `<rect class="bounds-open" x="${at(Math.min(low, 1 - width))}" width="${at(width)}" height="8"/><g class="bounds-quarters">${quarters}</g></svg>`,
  )
}

/** `41 to 78 %`; one number only where both bounds are the same. */
export function sayBounds({ low, high }: Bounds): string {
  const [from, to] = [Math.floor(low * 100 + 1e-9), Math.ceil(high * 100 - 1e-9)]
  return from === to ? `${from} %` : `${from} to ${to} %`
}
