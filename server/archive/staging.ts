import { randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { stagingFolder } from '../photo/place.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { Unpacked } from './unpack.ts'

// An archive that was sent waits here, unpacked and checked, until its sender has chosen. Folders are named by 128
// random bits, and each belongs to one member.

const NAME = /^import-([0-9a-f]{32})$/
const HOURS = 24

const folderOf = (dataDir: string, token: string) => join(stagingFolder(dataDir), `import-${token}`)

/** A new folder for one archive. */
export function makeStage(dataDir: string): { token: string; folder: string } {
  const token = randomBytes(16).toString('hex')
  const folder = folderOf(dataDir, token)
  mkdirSync(folder, { recursive: true })
  return { token, folder }
}

export function removeStage(dataDir: string, token: string): void {
  rmSync(folderOf(dataDir, token), { recursive: true, force: true })
}

/** As `removeStage`, where something else is the answer: what the disk does not let go of now is swept within a day. */
export function dropStage(dataDir: string, token: string): void {
  try {
    removeStage(dataDir, token)
  } catch {
    // See above.
  }
}

export function keepStage(dataDir: string, token: string, { notebook, photos }: Unpacked): void {
  const kept = { memberId: currentMemberId(), notebook, photos: [...photos] }
  writeFileSync(join(folderOf(dataDir, token), 'kept.json'), JSON.stringify(kept))
}

/** What waits under this token, to whoever sent it; undefined to everybody else. */
export function findStage(dataDir: string, token: string): Unpacked | undefined {
  if (!NAME.test(`import-${token}`)) return undefined
  const file = join(folderOf(dataDir, token), 'kept.json')
  if (!existsSync(file)) return undefined
  const kept = JSON.parse(readFileSync(file, 'utf8')) as {
    memberId: number | null
    notebook: Unpacked['notebook']
    photos: [string, never][]
  }
  if (kept.memberId !== currentMemberId()) return undefined
  return { notebook: kept.notebook, photos: new Map(kept.photos) }
}

/** Those that nobody came back to within a day go. */
export function sweepStages(dataDir: string, now: Date): void {
  const staging = stagingFolder(dataDir)
  if (!existsSync(staging)) return
  for (const name of readdirSync(staging)) {
    if (!NAME.test(name)) continue
    const ageMs = now.getTime() - statSync(join(staging, name)).mtime.getTime()
    if (ageMs > HOURS * 3600_000) rmSync(join(staging, name), { recursive: true, force: true })
  }
}
