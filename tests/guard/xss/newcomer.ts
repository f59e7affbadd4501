import { insertResetLink, insertSetupLink } from '../../../server/member/link-queries.ts'
import { ANONYMOUS, LONE } from '../../../server/rights/viewer.ts'
import { PASSWORD } from '../../support/guild.ts'
import { NOW } from '../../support/start.ts'
import type { Keep } from './scene.ts'
import { routeOf, startTarget } from './target.ts'

/** A notebook that nobody has joined yet: the forms of the first accounts, refused with every text and taken with the last. */
export async function sendNewcomers(keep: Keep, texts: readonly string[]): Promise<ReadonlySet<string>> {
  const target = await startTarget(() => ({ owner: LONE, anonymous: ANONYMOUS }))
  const setup = `/setup/${insertSetupLink(target.db, NOW)}`
  const post = async (path: string, as: string, fields: Record<string, string>) => {
    const answer = await target.send(path, as, new URLSearchParams(fields))
    keep(routeOf('POST', path), answer)
    return answer
  }
  const plain = texts.map((text) => text.replace(/\p{Cc}|\u2028|\u2029/gu, ' '))
  keep('GET /setup/:token', await target.send(setup, 'anonymous'))
  for (const text of plain)
    for (const [path, as] of [
      [setup, 'anonymous'],
      ['/members/first', 'owner'],
    ] as const)
      await post(path, as, { name: text, signInName: text, password: 'short' })
  const name = plain.find((text) => text.length < 100 && text.includes('<x-mark>')) ?? ''
  const joined = await post(setup, 'anonymous', { name, signInName: 'first', password: PASSWORD })
  if (joined.status !== 303) throw new Error(`POST /setup/:token was answered with ${joined.status}`)
  const reset = `/reset/${insertResetLink(target.db, { id: 1, role: 'keeper' }, NOW)}`
  keep('GET /reset/:token', await target.send(reset, 'anonymous'))
  for (const text of plain) await post(reset, 'anonymous', { password: text.slice(0, 5) })
  await target.stop()
  return target.asked
}
