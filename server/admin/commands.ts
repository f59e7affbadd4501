import { exportCommand, importCommand } from '../archive/command.ts'
import { backupCommand, restoreCommand } from '../backup/command.ts'
import { checkCommand } from '../check/command.ts'
import type { Command, Desk, ExitCode } from './command.ts'
import { memberCommand } from './member-command.ts'
import { tokenCommand } from './token-command.ts'
import { UsageRefusal } from './command.ts'

/** `npm run admin -- NAME …`: one line a command. */
const COMMANDS: Readonly<Record<string, Command>> = {
  member: memberCommand,
  token: tokenCommand,
  backup: backupCommand,
  restore: restoreCommand,
  check: checkCommand,
  export: exportCommand,
  import: importCommand,
}

/** Finds the command and runs it; what does not fit its usage is answered with the usage. */
export async function runCommand([name, ...args]: readonly string[], desk: Desk): Promise<ExitCode> {
  const command = name !== undefined && Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined
  if (!command) {
    for (const line of usageLines()) desk.complain(line)
    return 2
  }
  try {
    return await command.run(args, desk)
  } catch (error) {
    if (!(error instanceof UsageRefusal)) throw error
    if (error.message) desk.complain(error.message)
    desk.complain(`Usage: npm run admin -- ${name} ${command.usage}`)
    return 2
  }
}

function usageLines(): string[] {
  return [
    'Usage: npm run admin -- COMMAND …',
    ...Object.entries(COMMANDS).map(([name, { usage, about }]) => `  ${name} ${usage}: ${about}`),
  ]
}
