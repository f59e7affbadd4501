/** A word of a typed text and where it stands, line and column counted from 1, the column in code points. */
export interface Word {
  readonly text: string
  readonly line: number
  readonly column: number
}

/**
 * The words of a text, a list for each line; a semicolon ends a line as well.
 * @param text what was typed
 * @param splitsSlash whether `/` is a word of its own, so that `72/9` is three words
 * @returns lists of words, the empty ones left out
 * @example listWords('13,5 13\n14', false) // [[13,5 at 1:1, 13 at 1:6], [14 at 2:1]]
 */
export function listWords(text: string, splitsSlash: boolean): Word[][] {
  const pattern = splitsSlash ? /\/|[^\s/]+/gu : /\S+/gu
  const lists: Word[][] = []
  for (const [index, line] of text.split(/\r\n|\n|\r/u).entries()) {
    let start = 0
    let [counted, column] = [0, 1]
    for (const part of line.split(';')) {
      const words: Word[] = []
      for (const match of part.matchAll(pattern)) {
        // Onward from the word before: counting from the start each time would make a long line slow.
        column += [...line.slice(counted, start + match.index)].length
        counted = start + match.index
        words.push({ text: match[0], line: index + 1, column })
      }
      if (words.length > 0) lists.push(words)
      start += part.length + 1
    }
  }
  return lists
}

const COMMA = 'A comma is read as a decimal comma. Separate readings with a space, a new line or a semicolon.'

/**
 * A number with a decimal point or comma, and the letters of a unit that follow it without a space.
 * @param word one word
 * @returns the value and the suffix (empty without one), or a sentence for whoever typed it. Refused are signs,
 *   thousands marks, exponents, fractions, and more than 12 digits on either side of the decimal sign
 * @example readNumber('13,5mm') // value 13.5, suffix 'mm'; readNumber('13,') and readNumber('1.234,5') are refused
 */
export function readNumber(word: string): { ok: true; value: number; suffix: string } | { ok: false; message: string } {
  const match = /^(\d{1,12}(?:[.,]\d{1,12})?|\.\d{1,12})([a-z°]*)$/iu.exec(word)
  if (match?.[1] !== undefined) return { ok: true, value: Number(match[1].replace(',', '.')), suffix: match[2] ?? '' }
  if (/^[\d.,]+$/u.test(word) && /\d/u.test(word) && word.includes(',')) return { ok: false, message: COMMA }
  if (/^[-−–]\d/u.test(word)) return { ok: false, message: 'A reading has no minus sign.' }
  if (/^\d{13,}/u.test(word)) return { ok: false, message: 'This number has too many digits.' }
  return { ok: false, message: 'This is not a number.' }
}
