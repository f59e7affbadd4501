import type { Tablet } from './draft.ts'

/**
 * One tablet as text: `S m m w w`, then `from C` and `border` where they are so.
 * @example writeTablet(tablet) // 'Z m - w w from C border'
 */
export function writeTablet({ threading, holes, start, part }: Tablet): string {
  const words = [threading, ...holes.map((key) => key ?? '-')]
  if (start !== 'A') words.push('from', start)
  if (part === 'border') words.push('border')
  return words.join(' ')
}

/**
 * Writes a threading as text that `readThreading` takes back, every line numbered, equal neighbours in one line.
 * @returns lines joined by line feeds; an empty text for no tablets
 * @example writeThreading(tablets) // '1-2: S m m m m border\n3: Z m m w w'
 */
export function writeThreading(tablets: readonly Tablet[]): string {
  const lines: string[] = []
  for (let from = 0; from < tablets.length;) {
    const text = writeTablet(tablets[from]!)
    let to = from
    while (to + 1 < tablets.length && writeTablet(tablets[to + 1]!) === text) to++
    lines.push(`${from + 1}${to > from ? `-${to + 1}` : ''}: ${text}`)
    from = to + 1
  }
  return lines.join('\n')
}
