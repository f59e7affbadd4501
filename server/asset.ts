import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const ASSETS = fileURLToPath(new URL('../dist/assets/', import.meta.url))
const read = new Map<string, string>()

/** The text of a built script or style sheet, for a page or a script that is not fetched from below `/assets`. */
export function readAsset(name: string): string {
  const known = read.get(name) ?? readFileSync(ASSETS + name, 'utf8')
  read.set(name, known)
  return known
}
