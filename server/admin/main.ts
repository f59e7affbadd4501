import { addressOf } from '../address.ts'
import { NotebookRefusal } from '../db/open.ts'
import { letProgramAct } from '../rights/viewer.ts'
import { readSettings, SettingRefusal } from '../settings.ts'
import { runCommand } from './commands.ts'

try {
  const settings = readSettings(process.env)
  letProgramAct()
  process.exitCode = await runCommand(process.argv.slice(2), {
    dataDir: settings.dataDir,
    address: addressOf(settings, settings.port),
    now: () => new Date(),
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    say: console.log,
    complain: console.error,
  })
} catch (error) {
  if (!(error instanceof SettingRefusal || error instanceof NotebookRefusal)) throw error
  console.error(error.message)
  process.exitCode = 2
}
