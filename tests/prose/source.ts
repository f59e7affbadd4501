import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))

/** A file of the project by its path from the root. */
export const readSource = (path: string) => readFileSync(join(ROOT, path), 'utf8')

export const isThere = (path: string) => existsSync(join(ROOT, path))

/** Every file below a folder, by its path from the root; what is installed, built or a person's own is left out. */
export function listSources(folder: string, endings: readonly string[]): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) return LEFT_OUT.has(entry.name) ? [] : listSources(path, endings)
    return endings.some((ending) => entry.name.endsWith(ending)) ? [path] : []
  })
}
const LEFT_OUT = new Set(['node_modules', 'dist', 'data', '.git'])

/** What a module imports, types and lazy imports too: files of ours by their path from the root, packages as written. */
export function listImports(path: string): string[] {
  return ts
    .preProcessFile(readSource(path), true, true)
    .importedFiles.map(({ fileName }) => (fileName.startsWith('.') ? join(dirname(path), fileName) : fileName))
}

/** The relative links of a Markdown file, by the path from the root that they lead to. */
export function listLinks(path: string): string[] {
  return [...readSource(path).matchAll(/\]\(([^)\s]+)\)/g)]
    .map(([, target = '']) => target)
    .filter((target) => !/^[a-z]+:/.test(target) && !target.startsWith('#'))
    .map((target) => relative('.', normalize(join(dirname(path), target.split('#')[0] ?? ''))))
}

/** The rows of the Markdown table whose head begins with these words, each as its cells. */
export function readTable(path: string, head: string): string[][] {
  const lines = readSource(path).split('\n')
  const at = lines.findIndex((line) => line.startsWith(`| ${head} `))
  if (at < 0) throw new Error(`${path} has no table whose head begins with “${head}”`)
  const end = lines.findIndex((line, index) => index > at && !line.startsWith('|'))
  const rows = lines.slice(at + 2, end < 0 ? undefined : end)
  return rows.map((row) =>
    row
      .split(/(?<!\\)\|/)
      .slice(1, -1)
      .map((cell) => cell.trim()),
  )
}

/** A cell's code without its marks. */
export const bare = (cell = '') => cell.replaceAll('`', '')
