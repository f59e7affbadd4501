import { minorDigits } from './currency.ts'

/** Groups of three are held together by a space that does not break. */
const GAP = '\u00a0'

/**
 * An amount as typed, in whole minor units.
 * @param text `28.50`, `28,5`, `1 250`; no sign, no currency
 * @param currency three letters that `minorDigits` knows
 * @returns undefined for anything that is no such amount, more figures than the currency has included, zeros apart
 * @throws RangeError when the currency is not known
 * @example readMoney('28.5', 'EUR') // 2850n; readMoney('28.505', 'EUR') // undefined; readMoney('300', 'JPY') // 300n
 */
export function readMoney(text: string, currency: string): bigint | undefined {
  const digits = requireDigits(currency)
  const [, whole, part = ''] =
    /^(\d{1,12})(?:[.,](\d{1,12}))?$/.exec(text.trim().replace(/[\s\u00a0\u202f]/g, '')) ?? []
  if (whole === undefined || part.replace(/0+$/, '').length > digits) return undefined
  return BigInt(whole + part.slice(0, digits).padEnd(digits, '0'))
}

/**
 * An amount as a form takes it: `1250.50`.
 * @throws RangeError when the currency is not known
 * @example moneyText(-5n, 'EUR') // '-0.05'; moneyText(300n, 'JPY') // '300'
 */
export function moneyText(minor: bigint, currency: string): string {
  const { sign, whole, part } = figuresOf(minor, currency)
  return `${sign}${whole}${part}`
}

/**
 * An amount as people read it, alike in every browser: `1 250.50 EUR`, the gaps not breaking.
 * @throws RangeError when the currency is not known
 * @example sayMoney(125050n, 'EUR') // '1 250.50 EUR'; sayMoney(-5n, 'EUR') // '−0.05 EUR'
 */
export function sayMoney(minor: bigint, currency: string): string {
  const { sign, whole, part } = figuresOf(minor, currency)
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, GAP)
  return `${sign === '' ? '' : '−'}${grouped}${part}${GAP}${currency}`
}

function figuresOf(minor: bigint, currency: string): { sign: string; whole: string; part: string } {
  const digits = requireDigits(currency)
  const text = String(minor < 0n ? -minor : minor).padStart(digits + 1, '0')
  const sign = minor < 0n ? '-' : ''
  if (digits === 0) return { sign, whole: text, part: '' }
  return { sign, whole: text.slice(0, -digits), part: `.${text.slice(-digits)}` }
}

function requireDigits(currency: string): number {
  const digits = minorDigits(currency)
  if (digits === undefined) throw new RangeError(`currency must be one of ISO 4217, not ${JSON.stringify(currency)}`)
  return digits
}
