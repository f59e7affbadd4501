import { describe, expect, test } from 'vitest'
import { noteProblem, renderNote } from '../../server/markdown.ts'
import { withinTime } from '../../server/within-time.ts'

const html = (text: string) => renderNote(text).toString()

/** A header of many columns, and rows of one empty cell each, which Markdown fills up to the header's width. */
const wideTable = (columns: number) =>
  `${'|a'.repeat(columns)}|\n${'|-'.repeat(columns)}|\n${'|\n'.repeat(32_000 - columns * 2)}`

describe('renderNote(text)', () => {
  test('lays out what the form promises', () => {
    expect(html('*thin*\n\n- a\n- b\n\n> said')).toBe(
      '<p><em>thin</em></p>\n<ul>\n<li>a</li>\n<li>b</li>\n</ul>\n<blockquote>\n<p>said</p>\n</blockquote>\n',
    )
  })

  test.each([
    ['<script>alert(1)</script>', ''],
    ['<img src=x onerror=alert(1)>', ''],
    ['<a href="javascript:alert(1)">a</a>', '<p><a rel="nofollow noopener noreferrer">a</a></p>\n'],
    ['[a](javascript:alert(1))', '<p><a rel="nofollow noopener noreferrer">a</a></p>\n'],
    ['[a](&#106;avascript:alert(1))', '<p><a rel="nofollow noopener noreferrer">a</a></p>\n'],
    ['[a](data:text/html,x)', '<p><a rel="nofollow noopener noreferrer">a</a></p>\n'],
    ['[a](//evil.example)', '<p><a rel="nofollow noopener noreferrer">a</a></p>\n'],
    ['<p style="position:fixed" onclick="alert(1)" id="content" class="button">a</p>', '<p>a</p>'],
    ['<svg><script>alert(1)</script></svg>', '<p></p>\n'],
    ['<math><mtext><style><img src=x onerror=alert(1)></style></mtext></math>', '<p></p>\n'],
    ['<xmp><img src=x onerror=alert(1)></xmp>', '<p></p>\n'],
  ])('of %j keeps nothing that could run', (text, expected) => {
    expect(html(text)).toBe(expected)
  })

  test('of a note that cannot be laid out shows it as it was typed', () => {
    const note = `<b> and a table:\n\n${wideTable(10_000)}`
    const shown = html(note)
    // Compared as a yes or no: the difference of two such texts would fill the screen.
    expect(shown === `<pre>${note.replace('<b>', '&lt;b&gt;')}</pre>`).toBe(true)
  })
})

describe('noteProblem(text)', () => {
  test('of a long plain note is undefined', () => {
    expect(noteProblem('A word and another one, *as people write*.\n\n- a\n- b\n\n'.repeat(200))).toBeUndefined()
  })

  test('counts bytes, not characters', () => {
    expect(noteProblem('é'.repeat(40_000))).toBe('This note has 79 KB; at most 64 KB fit. Please split it.')
  })

  test.each([
    ['>'.repeat(17), 1],
    [`a\n${'- '.repeat(17)}`, 2],
    [`${' '.repeat(40)}- a`, 1],
  ])('of %j says which line is nested too deep', (text, line) => {
    expect(noteProblem(text)).toBe(`Line ${line} is nested more than 16 deep; please flatten the list or quotation.`)
  })

  test('of words far to the right is undefined: they are no list', () => {
    expect(noteProblem(`${' '.repeat(60)}4F 4B`)).toBeUndefined()
  })

  test('refuses a small text that would be laid out as a page of gigabytes', () => {
    expect(noteProblem(wideTable(10_000))).toMatch(/^This note cannot be laid out/)
  })

  test('refuses one long address that is linked again and again', () => {
    const note = `[a]: ${'x'.repeat(30_000)}\n\n${'[a] '.repeat(700)}`
    expect(noteProblem(note)).toMatch(/^This note cannot be laid out/)
  })
})

describe('withinTime(ms, work)', () => {
  test('gives what the work gives, and throws what it throws', () => {
    expect(withinTime(1000, () => 7)).toEqual({ inTime: true, value: 7 })
    expect(() =>
      withinTime(1000, () => {
        throw new RangeError('too deep')
      }),
    ).toThrow(RangeError)
  })

  test('stops a loop without end', () => {
    const loop = () => {
      for (;;);
    }
    expect(withinTime(20, loop)).toEqual({ inTime: false })
  })

  test('begins again where the clock ran out while the processor did something else', () => {
    let begun = 0
    const done = withinTime(100, () => {
      begun += 1
      // Asleep, as a process is that gets no turn.
      if (begun === 1) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 400)
      return begun
    })
    expect(done).toEqual({ inTime: true, value: 2 })
  })
})
