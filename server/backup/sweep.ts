import { existsSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { backupsFolder, partialName, processOfPartial } from './place.ts'

/** Takes away what a process that is gone left half made; one that is at work keeps its own. */
export function sweepPartials(dataDir: string): string[] {
  const folder = backupsFolder(dataDir)
  if (!existsSync(folder)) return []
  const left = readdirSync(folder).filter((name) => {
    const pid = processOfPartial(name)
    // At the start nothing is half made by us yet: an equal number is left from a container of before.
    return pid !== undefined && (pid === process.pid || !isAlive(pid))
  })
  for (const name of left) rmSync(join(folder, name), { recursive: true, force: true })
  return left
}

/** Renamed first: half deleted it would still look like a backup. */
export function deleteBackup(dataDir: string, name: string): void {
  const going = join(backupsFolder(dataDir), partialName(name))
  renameSync(join(backupsFolder(dataDir), name), going)
  rmSync(going, { recursive: true, force: true })
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
