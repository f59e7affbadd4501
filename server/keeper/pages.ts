import { resolve } from 'node:path'
import type { KeptBackup } from '../backup/list.ts'
import { backupsFolder } from '../backup/place.ts'
import { KEEP } from '../backup/retention.ts'
import type { BackupRun } from '../backup/runs.ts'
import type { Finding } from '../check/finding.ts'
import { count } from '../check/finding.ts'
import type { PageHead } from '../pages.ts'
import { sayWhen } from './say.ts'
import { sayBytes } from './space.ts'
import { listWorries, type Facts, type Worry } from './verdict.ts'

declare module '../pages.ts' {
  interface Pages {
    'keeper/show': KeeperPage
    'keeper/restore': RestorePage
    'keeper/check': CheckPage
    'keeper/delete': DeletePage
  }
}

interface BackupLine {
  readonly name: string
  readonly when: string
  readonly size: string
  readonly photos: string
  readonly reason: string
}

interface KeeperPage extends PageHead {
  readonly isSafe: boolean
  readonly worries: readonly Worry[]
  readonly last: BackupLine | ''
  readonly next: string
  readonly free: string
  readonly freePercent: string
  readonly database: string
  readonly photographs: string
  readonly backups: readonly BackupLine[]
  readonly failures: readonly { when: string; message: string }[]
  readonly folder: string
  readonly elsewhere: string
  readonly keep: typeof KEEP
}

export interface KeeperFacts extends Facts {
  readonly dataDir: string
  readonly backups: readonly KeptBackup[]
  readonly runs: readonly BackupRun[]
  readonly nextAt: Date
  readonly sizes: { readonly databaseBytes: number; readonly photoBytes: number; readonly photoFiles: number }
}

const REASONS = {
  scheduled: 'by itself, daily',
  asked: 'somebody asked for it',
  'before-restore': 'before a restore',
} as const

export function keeperPage(facts: KeeperFacts, notice: string): KeeperPage {
  const { now, zone, space, sizes, runs, dataDir, isDemo, nextAt } = facts
  const backups = facts.backups.map((backup) => lineOf(backup, facts))
  const worries = listWorries(facts)
  const elsewhere = runs.find(({ ok, file }) => ok === 1 && isElsewhere(file))
  return {
    ...{ title: 'Keeping the notebook', section: 'home', notice },
    ...{ isSafe: worries.length === 0, worries, backups, last: backups[0] ?? '', keep: KEEP },
    next: isDemo ? 'none, this is the demo' : nextAt <= now ? 'within a minute' : sayWhen(nextAt, now, zone),
    free: `${sayBytes(space.freeBytes)} of ${sayBytes(space.totalBytes)}`,
    freePercent: String(Math.floor(space.freeShare * 100)),
    database: sayBytes(sizes.databaseBytes),
    photographs:
      sizes.photoFiles === 0 ? 'none yet' : `${sayBytes(sizes.photoBytes)} in ${count(sizes.photoFiles, 'file')}`,
    failures: runs
      .filter(({ ok }) => ok === 0)
      .slice(0, 5)
      .map(({ at, message }) => ({ when: sayWhen(new Date(at), now, zone), message })),
    folder: resolve(backupsFolder(dataDir)),
    elsewhere: elsewhere ? `${sayWhen(new Date(elsewhere.at), now, zone)}, in ${elsewhere.file}` : '',
  }
}

const isElsewhere = (file: string) => /[/\\]/.test(file)

function lineOf(
  { name, at, bytes, photos, reason }: KeptBackup,
  { now, zone }: Pick<Facts, 'now' | 'zone'>,
): BackupLine {
  return {
    ...{ name, when: sayWhen(at, now, zone), size: sayBytes(bytes), reason: REASONS[reason] },
    photos: photos === 0 ? 'none' : count(photos, 'file'),
  }
}

interface RestorePage extends PageHead {
  readonly name: string
  readonly when: string
  /** Of what people wrote: how much there is now, and how much there was. */
  readonly rows: readonly { label: string; present: string; past: string }[]
  readonly photos: string
  readonly folder: string
}

const TABLES: Readonly<Record<string, string>> = {
  original: 'Originals',
  draft: 'Drafts',
  draft_revision: 'Revisions of drafts',
  piece: 'Pieces',
  sitting: 'Sittings',
  claim: 'Claims',
  source: 'Sources',
  photo: 'Photographs',
  member: 'Members',
}

export function restorePage(
  backup: KeptBackup,
  present: Readonly<Record<string, number>>,
  { now, zone, dataDir }: { readonly now: Date; readonly zone: string; readonly dataDir: string },
): RestorePage {
  return {
    title: `Restore the backup made ${sayWhen(backup.at, now, zone)}`,
    section: 'home',
    ...{ name: backup.name, when: sayWhen(backup.at, now, zone), folder: resolve(backupsFolder(dataDir)) },
    rows: Object.entries(TABLES).map(([table, label]) => ({
      ...{ label, present: String(present[table] ?? 0), past: String(backup.counts[table] ?? 0) },
    })),
    photos: backup.photos === 0 ? '' : count(backup.photos, 'file'),
  }
}

interface DeletePage extends PageHead {
  readonly name: string
  readonly size: string
  readonly reason: string
  readonly photos: string
  /** What is lost with this one more than with another; empty else. */
  readonly warning: string
}

export function deletePage(
  backup: KeptBackup,
  all: readonly KeptBackup[],
  clock: Pick<Facts, 'now' | 'zone'>,
): DeletePage {
  const { name, when, size, photos, reason } = lineOf(backup, clock)
  const isOnly = all.length === 1
  const isNewest = all[0]?.name === name
  return {
    ...{ title: `Delete the backup made ${when}`, section: 'home', name, size, photos, reason },
    warning: isOnly ? ONLY : isNewest ? NEWEST : '',
  }
}

const ONLY = 'It is the only backup there is here. Make another one first.'
const NEWEST = 'It is the newest one. The work since the one before is in no other backup here.'

interface CheckPage extends PageHead {
  readonly findings: readonly Finding[]
  readonly heading: string
}

export function checkPage(findings: readonly Finding[]): CheckPage {
  const heading = findings.length === 0 ? 'All is well' : `${count(findings.length, 'thing')} to look at`
  return { title: `Check: ${heading.toLowerCase()}`, section: 'home', findings, heading }
}
