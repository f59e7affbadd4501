import { listBackups } from '../backup/list.ts'
import { verifyBackup } from '../backup/verify.ts'
import type { Db } from '../db/open.ts'
import { findChangedPhotos, findMissingPhotos, findOrphans } from '../photo/check.ts'
import { checkDatabase, checkSearch } from './database.ts'
import { count, some, type Finding } from './finding.ts'
import { checkSums } from './sums.ts'

/** A younger file may belong to an upload that is under way. */
const ORPHAN_AGE_MS = 3_600_000

/** Looks over the whole notebook and its newest backup; changes nothing. Empty when all is well. */
export async function checkNotebook(db: Db, dataDir: string, now: Date): Promise<Finding[]> {
  const findings = checkDatabase(db)
  // In a damaged file the other questions may have no answer.
  if (findings.length > 0) return [...findings, ...(await checkNewestBackup(dataDir))]
  return [
    ...checkSums(db),
    ...checkSearch(db),
    ...checkPhotos(db, dataDir, now),
    ...(await checkContent(db, dataDir)),
    ...(await checkNewestBackup(dataDir)),
  ]
}

async function checkContent(db: Db, dataDir: string): Promise<Finding[]> {
  const changed = await findChangedPhotos(db, dataDir)
  if (changed.length === 0) return []
  const names = changed.flatMap((photo) => photo.names)
  return [
    {
      what: `${count(changed.length, 'photograph')} whose files are not what they were: ${some(names)}.`,
      todo: 'Copy the files back from the folder photos of an older backup, best of one on another disk; the names stay as they are. This disk may be failing.',
    },
  ]
}

function checkPhotos(db: Db, dataDir: string, now: Date): Finding[] {
  const findings: Finding[] = []
  const missing = findMissingPhotos(db, dataDir)
  if (missing.length > 0) {
    const names = missing.map(({ id, caption }) => caption || `number ${id}`)
    findings.push({
      what: `${count(missing.length, 'photograph')} without ${missing.length === 1 ? 'its' : 'their'} files: ${some(names)}.`,
      todo: 'Copy the files back from the folder photos of a backup; the names stay as they are.',
    })
  }
  const orphans = findOrphans(db, dataDir).filter(
    ({ modifiedAt }) => now.getTime() - modifiedAt.getTime() > ORPHAN_AGE_MS,
  )
  if (orphans.length > 0)
    findings.push({
      what: `${count(orphans.length, 'file')} among the photographs that nothing in the notebook shows: ${some(orphans.map(({ name }) => name))}.`,
      todo: 'They do no harm but take space. After a restore they are the photographs of what was replaced. To take them away: npm run admin -- check --sweep.',
    })
  return findings
}

async function checkNewestBackup(dataDir: string): Promise<Finding[]> {
  const newest = listBackups(dataDir)[0]
  if (!newest) return []
  const verdict = await verifyBackup(newest.folder)
  if (verdict.ok) return []
  return [
    {
      what: `The newest backup, ${newest.name}, is not whole any more. ${some(verdict.problems, 3)}`,
      todo: 'Make a new backup now, and keep it on another disk: this one may be failing.',
    },
  ]
}
