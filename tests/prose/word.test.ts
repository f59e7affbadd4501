import { describe, expect, test } from 'vitest'
import { listSources, readSource } from './source.ts'

const FILES = listSources('.', ['.ts', '.mjs', '.js', '.hbs', '.css', '.md', '.json', 'LICENSE', 'run']).filter(
  // Published tables, and the list of packages, are not our words.
  (path) => !path.includes('/reference/') && path !== 'package-lock.json',
)

/** Each is put together here from its parts, so that this file does not hold it. */
const WORDS: readonly (readonly [what: string, pattern: RegExp, example: string])[] = [
  ['a word for the record of a talk', /\btran(?:script)s?\b/i, ['the tran', 'script says'].join('')],
  ['the name of a paper it was started from', /seed[ ]document/i, ['Seed', 'document'].join(' ')],
  [
    'a path of a machine it was written on',
    /(?<![\w.])[/](?:work[/](?:main|shared)|tmp[/]f[a-z][/]|root[/]|home[/]\w)/,
    ['see ', 'work', 'main', 'server'].join('/'),
  ],
  ['a note of unfinished work', /\b(?:TO(?:DO)|FIX(?:ME)|X(?:XX))\b/, ['// TO', 'DO: later'].join('')],
  ['the number of an issue', /\bissues?[ ]#?\d/i, ['see issue', '12'].join(' ')],
]

describe('every file of the project', () => {
  test('the search reads all sorts of files', () => {
    for (const path of ['README.md', '.ci/run', 'server/app.ts', 'views/layout.hbs', 'tests/prose/word.test.ts'])
      expect(FILES).toContain(path)
  })

  test.each(WORDS)('holds no %s', (_what, pattern, example) => {
    expect(example).toMatch(pattern)
    expect(FILES.filter((path) => pattern.test(readSource(path)))).toEqual([])
  })

  test('package-lock.json holds no download address', () => {
    expect(readSource('package-lock.json')).not.toContain('"resolved"')
  })
})
