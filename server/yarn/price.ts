/** What was paid, in the smallest unit of its currency, and what for. */
export interface Price {
  readonly minor: number
  /** Three letters, as ISO 4217 has them. */
  readonly currency: string
  readonly for: 'whole' | '50g' | '100g' | 'kg'
}

type ReadMinor =
  | { readonly ok: true; readonly minor: number }
  | { readonly ok: false; readonly field: 'price' | 'priceCurrency'; readonly message: string }

/** A price as typed, `12.50` and `EUR`, in whole minor units: no float stands between. */
export function minorOf(text: string, currency: string): ReadMinor {
  if (!/^[A-Z]{3}$/.test(currency))
    return { ok: false, field: 'priceCurrency', message: 'Which currency? Three letters, such as EUR, DKK or USD.' }
  const digits = digitsOf(currency)
  const [, whole, part = ''] = /^(\d{1,9})(?:[.,](\d{1,4}))?$/.exec(text) ?? []
  if (whole === undefined)
    return { ok: false, field: 'price', message: 'Please type the price as a number, such as 12.50.' }
  if (part.replace(/0+$/, '').length > digits)
    return { ok: false, field: 'price', message: `${currency} has ${digits} figures behind the point.` }
  return { ok: true, minor: Number(whole + part.slice(0, digits).padEnd(digits, '0')) }
}

/** `12.50` */
export function priceText({ minor, currency }: Pick<Price, 'minor' | 'currency'>): string {
  const digits = digitsOf(currency)
  const text = String(minor).padStart(digits + 1, '0')
  return digits === 0 ? text : `${text.slice(0, -digits)}.${text.slice(-digits)}`
}

/** How many figures a currency has behind the point, as the tables of this Node say (ISO 4217); 2 where it has none. */
function digitsOf(currency: string): number {
  const format = new Intl.NumberFormat('en', { style: 'currency', currency })
  return format.resolvedOptions().maximumFractionDigits ?? 2
}
