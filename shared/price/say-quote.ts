import type { Exact } from './exact.ts'

/** `7.35 h`, from thousandths of an hour; zeros at the end are left out. */
export function sayHours(thousandths: bigint): string {
  return `${hoursText(thousandths)} h`
}

/** As a form takes it: `7.35`. */
export function hoursText(thousandths: bigint): string {
  const digits = String(thousandths).padStart(4, '0')
  const part = digits.slice(-3).replace(/0+$/, '')
  return `${digits.slice(0, -3)}${part === '' ? '' : `.${part}`}`
}

/** A fraction of ten as a decimal: `12.5`. */
export function sayExact({ n, d }: Exact): string {
  const figures = String(d).length - 1
  if (figures === 0) return String(n)
  const digits = String(n).padStart(figures + 1, '0')
  const part = digits.slice(-figures).replace(/0+$/, '')
  return `${digits.slice(0, -figures)}${part === '' ? '' : `.${part}`}`
}
