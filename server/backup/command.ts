import { existsSync, statSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { UsageRefusal, withNotebook, type Command, type Desk } from '../admin/command.ts'
import { sayBytes } from '../keeper/space.ts'
import { sayFailure } from './failure.ts'
import { listBackups } from './list.ts'
import { bytesOf, photosOf } from './manifest.ts'
import { backupsFolder, isBackupName } from './place.ts'
import { restoreIntoFolder } from './restore-offline.ts'
import { RestoreRefusal, type Restored } from './restore.ts'
import { BackupUnderWay, runBackup } from './run.ts'
import { ALL_PAGES } from './take.ts'

export const backupCommand: Command = {
  usage: '[--to FOLDER]',
  about: 'makes a backup, also while the server runs; FOLDER may be on another disk',
  run: async (args, desk) => {
    const to = readTo(args)
    try {
      const taken = await withNotebook(desk, (db) =>
        runBackup({ db, dataDir: desk.dataDir, now: desk.now, reason: 'asked', to, pagesAtOnce: ALL_PAGES }),
      )
      const files = photosOf(taken.manifest)
      const photos = files === 0 ? 'no photographs' : `${files} files of photographs`
      desk.say(`Made and looked over: ${resolve(taken.folder)} (${sayBytes(bytesOf(taken.manifest))}, ${photos})`)
      return 0
    } catch (error) {
      if (!(error instanceof Error) || error.name === 'NotebookRefusal') throw error
      desk.complain(`No backup was made. ${sayFailure(error)}`)
      return 1
    }
  },
}

function readTo(args: readonly string[]): string | undefined {
  if (args.length === 0) return undefined
  const [flag, folder] = args
  if (flag !== '--to' || !folder || args.length > 2) throw new UsageRefusal()
  return folder
}

export const restoreCommand: Command = {
  usage: 'NAME | FOLDER | list',
  about: 'puts a backup in the place of what is there, after a safety copy',
  run: async (args, desk) => {
    const [which] = args
    if (!which || args.length > 1) throw new UsageRefusal()
    if (which === 'list') return list(desk)
    try {
      const restored = await restoreIntoFolder(desk, findFolder(which, desk.dataDir))
      say(restored, desk)
      return 0
    } catch (error) {
      if (!(error instanceof RestoreRefusal || error instanceof BackupUnderWay)) {
        if (!(error instanceof Error) || !('code' in error)) throw error
        desk.complain(`Nothing was replaced. ${sayFailure(error)}`)
      } else desk.complain(error.message)
      return 1
    }
  },
}

function list(desk: Desk): 0 {
  const backups = listBackups(desk.dataDir)
  if (backups.length === 0) desk.say(`There is no backup in ${backupsFolder(desk.dataDir)}.`)
  for (const { name, bytes, reason } of backups) desk.say(`${name}  ${sayBytes(bytes)}  ${reason}`)
  return 0
}

function findFolder(which: string, dataDir: string): string {
  if (isBackupName(which)) {
    const folder = join(backupsFolder(dataDir), which)
    if (existsSync(folder)) return folder
  }
  if (existsSync(which) && statSync(which).isDirectory()) return resolve(which)
  throw new UsageRefusal(`There is no backup ${which}; "restore list" names those that are there.`)
}

function say({ manifest, safety, setAside }: Restored & { setAside?: string | undefined }, desk: Desk): void {
  desk.say(`Restored as it was on ${manifest.at}, with ${photosOf(manifest)} files of photographs.`)
  if (safety) desk.say(`What was there before is kept in ${resolve(safety.folder)}`)
  if (setAside) desk.say(`The damaged files were set aside in ${resolve(setAside)}`)
  desk.say('Everybody signs in again.')
}
