import { deleteApiToken, listApiTokens } from '../member/api-token-queries.ts'
import { UsageRefusal, withNotebook, type Command } from './command.ts'

/** Tokens are made on their owner's page alone; here they can be looked over and ended. */
export const tokenCommand: Command = {
  usage: 'list | end NUMBER',
  about: 'tokens that programs show to the API',
  run: ([action, ...args], desk) =>
    withNotebook(desk, (db) => {
      if (action === 'list' && args.length === 0) {
        const tokens = listApiTokens(db)
        if (tokens.length === 0) desk.say('There are no tokens.')
        for (const { id, memberName, name, scope, expiresAt, lastUsedAt } of tokens) {
          desk.say([id, memberName, name, scope, `until ${expiresAt}`, `used ${lastUsedAt ?? 'never'}`].join('\t'))
        }
        return 0
      }
      if (action === 'end' && args.length === 1 && /^[1-9]\d{0,14}$/.test(args[0] ?? '')) {
        if (deleteApiToken(db, Number(args[0]))) {
          desk.say('Ended.')
          return 0
        }
        desk.complain(`There is no token ${args[0]}.`)
        return 1
      }
      throw new UsageRefusal('')
    }),
}
