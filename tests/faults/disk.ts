import {
  copyFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'

// What a power cut leaves, in two ways between which a real disk would choose for each name. The content of a file is
// always that of its last flush, and nothing where it was never flushed.
//  strict: a name is in a folder, or gone from it, only since the folder was flushed;
//  lax: every name is where the program had put it, flushed or not.
// What the model does not know: blocks of one file that reach the disk in another order than they were written, content
// that reaches it without a flush (that is what `kill -9` in the middle of a write shows), disks that lie.

/** Before the program starts: all that is there has long reached the disk. */
export function storeAll(folder: string, store: string): void {
  const entries = readdirSync(folder, { withFileTypes: true })
  const lines = entries.map((entry) => {
    const path = join(folder, entry.name)
    const { ino } = statSync(path)
    if (entry.isDirectory()) storeAll(path, store)
    else copyFileSync(path, join(store, `f${ino}`))
    return `${entry.isDirectory() ? 'd' : 'f'} ${ino} ${entry.name}\n`
  })
  writeFileSync(join(store, `d${statSync(folder).ino}`), lines.join(''))
}

/** Lays down what the strict reading leaves of the folder whose inode is `root`. */
export function layStrict(store: string, root: number, to: string): void {
  mkdirSync(to, { recursive: true })
  const listing = join(store, `d${root}`)
  if (!existsSync(listing)) return
  for (const line of readFileSync(listing, 'utf8').split('\n').filter(Boolean)) {
    const [kind, ino, ...name] = line.split(' ')
    const path = join(to, name.join(' '))
    if (kind === 'd') layStrict(store, Number(ino), path)
    else layContent(store, Number(ino), path)
  }
}

/**
 * Lays down what the lax reading leaves.
 * @param names the folder as the program has left it, with each file's inode
 */
export function layLax(store: string, names: readonly NamedInode[], to: string): void {
  mkdirSync(to, { recursive: true })
  for (const { name, ino, isFolder } of names) {
    if (isFolder) mkdirSync(join(to, name), { recursive: true })
    else layContent(store, ino, join(to, name))
  }
}

export interface NamedInode {
  readonly name: string
  readonly ino: number
  readonly isFolder: boolean
}

/** As the shim lists them, folders before what is in them. */
export function listInodes(folder: string, below = ''): NamedInode[] {
  return readdirSync(join(folder, below), { withFileTypes: true }).flatMap((entry) => {
    const name = join(below, entry.name)
    const { ino } = statSync(join(folder, name))
    const isFolder = entry.isDirectory()
    return [{ name, ino, isFolder }, ...(isFolder ? listInodes(folder, name) : [])]
  })
}

export function readNames(file: string): NamedInode[] {
  const lines = readFileSync(file, 'utf8').split('\n').filter(Boolean)
  return lines.map((line) => {
    const [kind, ino, ...name] = line.split(' ')
    return { name: name.join(' '), ino: Number(ino), isFolder: kind === 'd' }
  })
}

function layContent(store: string, ino: number, path: string): void {
  const kept = join(store, `f${ino}`)
  if (existsSync(kept)) copyFileSync(kept, path)
  else writeFileSync(path, '')
}

export const copyFolder = (from: string, to: string): void => cpSync(from, to, { recursive: true })
