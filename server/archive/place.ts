import { randomBytes } from 'node:crypto'
import { closeSync, copyFileSync, fsyncSync, linkSync, mkdirSync, openSync, renameSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { listNamesOf, photosFolder } from '../photo/place.ts'
import type { ArchiveRecord } from './record.ts'
import type { StagedPhoto } from './unpack.ts'

export interface PlacedColumns {
  readonly file: string
  readonly sha256: string
  readonly bytes: number
  readonly original_bytes: number
}

/**
 * Moves photographs from the staging folder to where they belong, before the rows that point at them are kept. Without
 * the file as it was sent the largest size takes its place.
 */
export function placePhotos(dataDir: string) {
  const made: { from: string; to: string; moved: boolean }[] = []
  const folders = new Set<string>()

  function place(staged: StagedPhoto, record: ArchiveRecord): PlacedColumns | undefined {
    const file = randomBytes(16).toString('hex')
    const names = listNamesOf({ file, width: Number(record.width), height: Number(record.height) })
    const keyOf = (name: string) => name.slice(name.lastIndexOf('-') + 1)
    const sizes = names.filter((name) => keyOf(name) !== 'original')
    if (sizes.some((name) => !staged[keyOf(name)])) return undefined
    const largest = staged[keyOf(sizes.at(-1)!)]!
    const original = staged.original ?? largest
    // First the copy, while the largest size still lies where it was staged.
    for (const name of names.reverse()) {
      const from = (staged[keyOf(name)] ?? largest).path
      const to = join(photosFolder(dataDir), name)
      makeFolder(dirname(to))
      const moved = staged[keyOf(name)] !== undefined
      if (moved) renameSync(from, to)
      else copyFileSync(from, to)
      made.push({ from, to, moved })
    }
    const bytes = sizes.reduce((sum, name) => sum + staged[keyOf(name)]!.bytes, 0)
    return { file, sha256: original.sha256, bytes, original_bytes: original.bytes }
  }

  function makeFolder(folder: string): void {
    folders.add(folder)
    if (mkdirSync(folder, { recursive: true }) === undefined) return
    for (let above = dirname(folder); above.length >= dataDir.length; above = dirname(above)) folders.add(above)
  }

  return {
    place,
    flush(): void {
      for (const path of [...made.filter(({ moved }) => !moved).map(({ to }) => to), ...folders]) flushPath(path)
    },
    /**
     * Back to where they were, so that the same archive can be tried again.
     * @param areKept they stay where they belong as well: their rows may come back
     */
    undo(areKept: boolean): void {
      for (const { from, to, moved } of made.splice(0).reverse()) {
        if (areKept && moved) linkSync(to, from)
        else if (moved) renameSync(to, from)
        else if (!areKept) rmSync(to, { force: true })
      }
    },
  }
}

function flushPath(path: string): void {
  const handle = openSync(path, 'r')
  try {
    fsyncSync(handle)
  } finally {
    closeSync(handle)
  }
}
