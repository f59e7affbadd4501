import { UsageRefusal, withNotebook, type Command } from '../admin/command.ts'
import { sweepOrphans } from '../photo/check.ts'
import { checkNotebook } from './check.ts'

/** A younger file without a row may belong to an upload that is under way. */
const HOUR_MS = 3_600_000

export const checkCommand: Command = {
  usage: '[--sweep]',
  about:
    'looks over the notebook, its photographs and its newest backup, also while the server runs; --sweep first takes away files of photographs that nothing points at',
  run: async (args, desk) => {
    const isSweeping = args[0] === '--sweep'
    if (args.length > (isSweeping ? 1 : 0)) throw new UsageRefusal()
    const findings = await withNotebook(desk, (db) => {
      // Asked for by name: straight after a restore these are the photographs of the notebook that was replaced.
      const swept = isSweeping ? sweepOrphans(db, desk.dataDir, new Date(desk.now().getTime() - HOUR_MS)) : []
      for (const { name } of swept) desk.say(`Taken away: ${name}`)
      return checkNotebook(db, desk.dataDir, desk.now())
    })
    for (const { what, todo } of findings) desk.complain(`${what}\n  What to do: ${todo}`)
    if (findings.length > 0) return 1
    desk.say('All is well: the database, its sums, the photographs, the index of words and the newest backup.')
    return 0
  },
}
