import { describe, expect, test } from 'vitest'
import { listImports, listSources, readSource } from './source.ts'

/** `file imports what` for every import of a folder that is not allowed. */
function strays(folder: string, isAllowed: (imported: string) => boolean): string[] {
  const files = listSources(folder, ['.ts'])
  expect(files.length).toBeGreaterThan(0)
  return files.flatMap((file) =>
    listImports(file)
      .filter((imported) => !isAllowed(imported))
      .map((imported) => `${file} imports ${imported}`),
  )
}

const OURS = /^(server|shared|views|migrations|seeds-demo|tests)\//
const PURE = new Set(
  Object.keys((JSON.parse(readSource('package.json')) as { dependencies: Record<string, string> }).dependencies),
)
/** The package of an import: `culori/fn` belongs to `culori`, `@scope/name/part` to `@scope/name`. */
const packageOf = (imported: string) => /^(@[^/]+\/)?[^/]+/.exec(imported)?.[0] ?? imported
const isPackage = (imported: string) => !OURS.test(imported) && !imported.startsWith('node:')

describe('who imports whom', () => {
  test('listImports(path) sees packages, imports over several lines, and none in ordinary text', () => {
    expect(listImports('tests/prose/boundary.test.ts')).toEqual(['vitest', 'tests/prose/source.ts'])
    expect(listImports('server/draft/routes.ts')).toContain('server/draft/revision-queries.ts')
    expect(listImports('server/field.ts')).toEqual([])
  })

  test('shared imports only shared and packages of the program itself', () => {
    expect(
      strays('shared', (name) => name.startsWith('shared/') || (isPackage(name) && PURE.has(packageOf(name)))),
    ).toEqual([])
  })

  test('browser scripts import shared and each other, never the server', () => {
    const isAllowed = (name: string) => name.startsWith('shared/') || name.startsWith('views/client/')
    expect(strays('views/client', isAllowed)).toEqual([])
  })

  test('the server imports neither browser scripts nor tests', () => {
    expect(strays('server', (name) => !/^(views|tests)\//.test(name))).toEqual([])
  })

  test('migrations import nothing of ours but each other', () => {
    expect(strays('migrations', (name) => name.startsWith('migrations/') || isPackage(name))).toEqual([])
  })

  test('the demo collection is written through forms and queries, never through tables or pages', () => {
    // Its pictures are stored as an upload is: read, made into sizes and put in place, for a row alone shows nothing.
    const through = /^server\/(\w+\/([\w-]+-)?(queries|form)|db\/open|photo\/(image|place|store))\.ts$/
    const drawing = new Set(['node:crypto', 'node:fs/promises', 'node:path', 'sharp'])
    const isAllowed = (name: string) => /^(seeds-demo|shared)\//.test(name) || through.test(name) || drawing.has(name)
    expect(strays('seeds-demo', isAllowed)).toEqual([])
  })

  test('queries know no Express', () => {
    const queries = listSources('server', ['queries.ts'])
    expect(queries.length).toBeGreaterThan(8)
    expect(queries.filter((file) => listImports(file).includes('express'))).toEqual([])
  })

  test.each(['server', 'shared', 'views'])('no file of %s is longer than 260 lines', (folder) => {
    const files = listSources(folder, ['.ts', '.hbs', '.css', '.mjs'])
    const long = files.map((file) => ({ file, lines: readSource(file).split('\n').length - 1 }))
    expect(long.filter(({ lines }) => lines > 260)).toEqual([])
  })
})
