import { UsageRefusal, withNotebook, type Command } from '../admin/command.ts'
import { checkNotebook } from './check.ts'

export const checkCommand: Command = {
  usage: '',
  about: 'looks over the notebook, its photographs and its newest backup, also while the server runs',
  run: async (args, desk) => {
    if (args.length > 0) throw new UsageRefusal()
    const findings = await withNotebook(desk, (db) => checkNotebook(db, desk.dataDir, desk.now()))
    for (const { what, todo } of findings) desk.complain(`${what}\n  What to do: ${todo}`)
    if (findings.length > 0) return 1
    desk.say('All is well: the database, its sums, the photographs, the index of words and the newest backup.')
    return 0
  },
}
