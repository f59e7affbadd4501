/** Which sort of number it is, with the number as it is compared; or the sentence that says what is wrong with it. */
export type IdentifierRead =
  { readonly ok: true; readonly value: string } | { readonly ok: false; readonly problem: string }

const wrong = (problem: string): IdentifierRead => ({ ok: false, problem })

/** Without what is often written before it, without hyphens and blanks. */
const bare = (text: string, label: string) =>
  text
    .trim()
    .replace(new RegExp(`^${label}(?:-1[03])?[:\\s]*`, 'i'), '')
    .replace(/[\s\u2010-\u2015-]/g, '')
    .toUpperCase()

/**
 * An ISBN as its thirteen digits. ISO 2108: ten digits with weights 10 to 1 modulo 11, thirteen with 1 and 3 modulo 10.
 * @example readIsbn('0-306-40615-2') // 9780306406157
 */
export function readIsbn(text: string): IdentifierRead {
  const digits = bare(text, 'ISBN')
  if (/^\d{9}[\dX]$/.test(digits)) {
    if (sumTen(digits) % 11 !== 0) return wrong(lastDigit('ISBN', tenth(digits)))
    const first = `978${digits.slice(0, 9)}`
    return { ok: true, value: first + thirteenth(first) }
  }
  if (/^\d{13}$/.test(digits)) {
    if (!/^97[89]/.test(digits)) return wrong('An ISBN of 13 digits begins with 978 or 979.')
    const last = thirteenth(digits)
    return last === digits[12] ? { ok: true, value: digits } : wrong(lastDigit('ISBN', last))
  }
  return wrong('An ISBN has 10 or 13 digits; the last of 10 may be an X.')
}

/** An ISSN as `1234-567X`. ISO 3297: weights 8 to 2 modulo 11, ten written as X. */
export function readIssn(text: string): IdentifierRead {
  const digits = bare(text, 'ISSN')
  if (!/^\d{7}[\dX]$/.test(digits)) return wrong('An ISSN has 8 digits; the last may be an X.')
  const last = checkOf([...digits.slice(0, 7)].reduce((sum, digit, at) => sum + (8 - at) * Number(digit), 0))
  if (last !== digits[7]) return wrong(lastDigit('ISSN', last))
  return { ok: true, value: `${digits.slice(0, 4)}-${digits.slice(4)}` }
}

/** A DOI without its resolver (ISO 26324). It has no check digit: only its form can be wrong. */
export function readDoi(text: string): IdentifierRead {
  const doi = text.trim().replace(/^(?:https?:\/\/(?:dx\.)?doi\.org\/|doi:\s*)/i, '')
  if (/^10\.\d{4,9}(?:\.\d+)*\/\S+$/.test(doi)) return { ok: true, value: doi }
  return wrong('A DOI begins with 10. and has a slash, such as 10.1000/182.')
}

const lastDigit = (name: string, last: string) =>
  `The check digit of this ${name} does not fit: after the other digits it would be ${last}. Please look again.`

const sumTen = (digits: string) =>
  [...digits].reduce((sum, digit, at) => sum + (10 - at) * (digit === 'X' ? 10 : Number(digit)), 0)
const tenth = (digits: string) => checkOf(sumTen(`${digits.slice(0, 9)}0`))
const thirteenth = (digits: string) =>
  String(
    (10 - ([...digits.slice(0, 12)].reduce((sum, digit, at) => sum + Number(digit) * (at % 2 === 0 ? 1 : 3), 0) % 10)) %
      10,
  )

function checkOf(sum: number): string {
  const check = (11 - (sum % 11)) % 11
  return check === 10 ? 'X' : String(check)
}
