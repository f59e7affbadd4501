import { createWriteStream, existsSync } from 'node:fs'
import { rename, rm } from 'node:fs/promises'
import { pipeline } from 'node:stream/promises'
import { UsageRefusal, withNotebook, type Command, type Desk } from '../admin/command.ts'
import { today } from '../context.ts'
import type { Db } from '../db/open.ts'
import { HttpError } from '../errors.ts'
import { asViewer, PROGRAM, type Viewer } from '../rights/viewer.ts'
import { bringIn, choiceKey, type Choice } from './bring-in.ts'
import { gather } from './gather.ts'
import { planImport } from './plan.ts'
import { dropStage, makeStage } from './staging.ts'
import { unpackArchive } from './unpack.ts'
import { fieldLabel, KIND_LABELS, recordLabel } from './words.ts'
import { writeArchive } from './write.ts'

export const exportCommand: Command = {
  usage: 'FILE [--member SIGN-IN-NAME]',
  about: 'writes the whole notebook, or what belongs to one member, as an archive',
  run: async (args, desk) => {
    const [file, flag, name] = args
    if (!file || file.startsWith('--') || (flag !== undefined && (flag !== '--member' || !name)) || args.length > 3)
      throw new UsageRefusal()
    if (existsSync(file)) return complain(desk, `There is a file ${file} already; nothing was written.`)
    return withNotebook(desk, async (db) => {
      const viewer = name === undefined ? PROGRAM : findMember(db, name)
      if (!viewer) return complain(desk, `Nobody signs in as ${name}.`)
      const gathered = asViewer(viewer, () => gather(db, { kind: name === undefined ? 'notebook' : 'own' }))
      const head = {
        name: name === undefined ? 'A whole notebook' : 'One maker’s own',
        today: today(desk),
        at: desk.now(),
      }
      await writeWhole(file, writeArchive(gathered, desk.dataDir, head))
      const { records } = gathered.notebook
      desk.say(
        `Written: ${file} (${records.original.length} originals, ${records.piece.length} pieces, ${records.photo.length} photographs).`,
      )
      return 0
    })
  },
}

/** Under another name until it is whole. */
async function writeWhole(file: string, archive: NodeJS.ReadableStream): Promise<void> {
  const part = `${file}.part`
  try {
    await pipeline(archive, createWriteStream(part, { flush: true, mode: 0o600 }))
    await rename(part, file)
  } catch (error) {
    await rm(part, { force: true })
    throw error
  }
}

const KEEP: Readonly<Record<string, Choice>> = { ours: 'ours', theirs: 'theirs', both: 'both' }

export const importCommand: Command = {
  usage: 'FILE [--for SIGN-IN-NAME] [--keep ours|theirs|both]',
  about: 'brings an archive in; what differs is listed, and nothing is written until --keep says which stands',
  run: async (args, desk) => {
    const { file, keep, name } = readArguments(args)
    if (!existsSync(file)) return complain(desk, `There is no file ${file}.`)
    return withNotebook(desk, async (db) => {
      const viewer = name === undefined ? PROGRAM : findMember(db, name)
      if (!viewer) return complain(desk, `Nobody signs in as ${name}.`)
      if (name === undefined && db.first(db.sql.selectFrom('member').select('id').limit(1)))
        return complain(desk, 'This notebook has members: say with --for to whom it shall belong.')
      const { token, folder } = makeStage(desk.dataDir)
      try {
        const unpacked = await unpackArchive(file, folder)
        return asViewer(viewer, () => {
          const { items, missing } = planImport(db, unpacked.notebook)
          const conflicts = items.filter(({ state }) => state === 'conflict')
          for (const { kind, record, field } of missing)
            desk.say(
              `${KIND_LABELS[kind].one} “${recordLabel(kind, record)}” names ${fieldLabel(field).toLowerCase()} that is neither in the archive nor here.`,
            )
          if (conflicts.length > 0 && keep === undefined) {
            for (const { kind, record, differences } of conflicts)
              desk.complain(
                `Differs: ${KIND_LABELS[kind].one} “${recordLabel(kind, record)}” in ${differences.map(({ field }) => fieldLabel(field)).join(', ')}`,
              )
            return complain(
              desk,
              'Nothing was brought in. Say --keep ours, theirs or both; or choose one by one on the page Import.',
            )
          }
          const choices = conflicts.map(({ kind, record, mayReplace }) => {
            return [choiceKey(kind, record.uid), keep === 'theirs' && !mayReplace ? 'ours' : keep!] as const
          })
          const { counts, remarks } = bringIn(db, unpacked, new Map(choices), desk.dataDir)
          for (const remark of remarks) desk.say(remark)
          desk.say(
            `Brought in: ${counts.new} new, ${counts.same} here already, ${counts.theirs} replaced, ${counts.ours} kept as they were, ${counts.both} beside what was here, ${counts.left} left out.`,
          )
          return 0
        })
      } catch (error) {
        if (!(error instanceof HttpError)) throw error
        return complain(desk, error.message)
      } finally {
        dropStage(desk.dataDir, token)
      }
    })
  },
}

function readArguments([file, ...flags]: readonly string[]): { file: string; keep?: Choice; name?: string } {
  if (!file || file.startsWith('--') || flags.length % 2 !== 0) throw new UsageRefusal()
  const read: { file: string; keep?: Choice; name?: string } = { file }
  for (let at = 0; at < flags.length; at += 2) {
    const [flag, value] = [flags[at], flags[at + 1]!]
    const keep = flag === '--keep' && Object.hasOwn(KEEP, value) ? KEEP[value] : undefined
    if (keep) read.keep = keep
    else if (flag === '--for') read.name = value
    else throw new UsageRefusal()
  }
  return read
}

function findMember(db: Db, signInName: string): Viewer | undefined {
  const query = db.sql.selectFrom('member').select(['id', 'name', 'role']).where('sign_in_name', '=', signInName)
  const row = db.first(query)
  return row && { kind: 'member', ...row }
}

function complain(desk: Desk, sentence: string): 1 {
  desk.complain(sentence)
  return 1
}
