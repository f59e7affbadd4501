import type { Db } from '../../server/db/open.ts'
import type { Role } from '../../server/db/tables.ts'
import { ANONYMOUS, LONE, type Viewer } from '../../server/rights/viewer.ts'
import { NOW } from './start.ts'

/** Who asks, in a notebook where Maren owns what is looked at and makes pieces with Tuve. */
export const WHO = ['anonymous', 'guest', 'other', 'coMaker', 'owner', 'keeper', 'lone'] as const
export type Who = (typeof WHO)[number]

const PEOPLE = {
  keeper: ['Orla', 'keeper'],
  owner: ['Maren', 'member'],
  coMaker: ['Tuve', 'member'],
  other: ['Hild', 'member'],
  guest: ['Sefa', 'guest'],
} as const satisfies Partial<Record<Who, readonly [string, Role]>>

export type People = Readonly<Record<Who, Viewer>> & Readonly<Record<keyof typeof PEOPLE, Viewer & { kind: 'member' }>>

/** Five members with the rights that their names in `WHO` say; none of them can sign in. */
export function makePeople(db: Db): People {
  const made = Object.entries(PEOPLE).map(([who, [name, role]]) => {
    const row = { name, sign_in_name: name.toLowerCase(), password_hash: '', role, created_at: NOW.toISOString() }
    const { id } = db.run(db.sql.insertInto('member').values(row))
    return [who, { kind: 'member', id, name, role }]
  })
  return { ...(Object.fromEntries(made) as People), anonymous: ANONYMOUS, lone: LONE }
}
