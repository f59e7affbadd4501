// Codes in use and the figures that each has behind the point, after ISO 4217, from memory of the standard's list one; a
// browser's own tables differ from it (they give HUF and IDR none), so what is kept never goes by them.

const TWO = `AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP
  CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR
  KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN
  PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD
  TZS UAH USD UYU UZS VES WST XCD YER ZAR ZMW`
const NONE = 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF'
const THREE = 'BHD IQD JOD KWD LYD OMR TND'
const FOUR = 'CLF UYW'

const DIGITS: ReadonlyMap<string, number> = new Map(
  (
    [
      [NONE, 0],
      [TWO, 2],
      [THREE, 3],
      [FOUR, 4],
    ] as const
  ).flatMap(([codes, digits]) => codes.split(/\s+/).map((code) => [code, digits] as const)),
)

/**
 * How many figures a currency has behind the point.
 * @param currency three letters of ISO 4217
 * @returns 0, 2, 3 or 4; undefined for a code that is not in the list
 * @example minorDigits('EUR') // 2; minorDigits('JPY') // 0; minorDigits('HUF') // 2; minorDigits('ABC') // undefined
 */
export const minorDigits = (currency: string): number | undefined => DIGITS.get(currency)
