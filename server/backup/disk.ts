import { createHash } from 'node:crypto'
import { createReadStream, existsSync } from 'node:fs'
import { copyFile, link, mkdir, open, readdir } from 'node:fs/promises'
import { dirname, join, relative, sep } from 'node:path'

/**
 * SHA-256 as hex. Never of a database that this process has open: closing the file would drop SQLite's locks on it.
 */
export async function hashFile(path: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 })) hash.update(chunk as Buffer)
  return hash.digest('hex')
}

/** Of a file its content, of a folder the names in it. */
export async function flush(path: string): Promise<void> {
  const handle = await open(path, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** Every file below a folder, with `/` between, sorted; none where there is no folder. */
export async function listFilesBelow(folder: string): Promise<string[]> {
  if (!existsSync(folder)) return []
  const entries = await readdir(folder, { withFileTypes: true, recursive: true })
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort()
}

/**
 * Puts a file that never changes into another place too: as a second name where that can be, as a flushed copy on
 * another disk.
 * @returns false when the file is not there (any more)
 */
export async function placeAgain(from: string, to: string): Promise<boolean> {
  await mkdir(dirname(to), { recursive: true })
  try {
    await link(from, to)
    return true
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === 'ENOENT') return false
    if (code === 'EEXIST') return true
    if (!['EXDEV', 'EPERM', 'ENOTSUP', 'ENOSYS', 'EMLINK', 'EACCES'].includes(code ?? '')) throw error
  }
  await copyFile(from, to)
  await flush(to)
  return true
}

/** Flushes the names in a folder and in all below it. */
export async function flushFolders(folder: string): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true })
  for (const entry of entries) if (entry.isDirectory()) await flush(join(entry.parentPath, entry.name))
  await flush(folder)
}
