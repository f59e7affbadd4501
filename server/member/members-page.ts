import type { Role } from '../db/tables.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { Owned } from '../rights/readable.ts'
import { ROLE_KEYS, ROLE_LABELS, type AccountEntered } from './form.ts'
import type { Invitation } from './link-queries.ts'
import type { Member } from './queries.ts'
import { ACCOUNT_FIELDS, BLANK_ACCOUNT } from './sign-in-page.ts'
import { toMoment } from './moment.ts'

declare module '../pages.ts' {
  interface Pages {
    'member/first': FirstPage
    'member/list': ListPage
    'member/link': LinkPage
    'member/leave': LeavePage
  }
}

const HEAD = { section: 'home' } as const

interface FirstPage extends PageHead {
  readonly heading: string
  readonly fields: readonly FieldView[]
  readonly problems: readonly { href: string; text: string }[]
}

/** Before the first other person: the lone maker's own account. */
export function firstPage(entered: AccountEntered = BLANK_ACCOUNT, problems: Problems<AccountEntered> = {}): FirstPage {
  const fields = formFields(ACCOUNT_FIELDS, entered, problems)
  const list = problemList(fields)
  const heading = 'People'
  return {
    ...{ ...HEAD, heading, title: heading },
    ...{ fields: Object.values(fields), problems: list },
  }
}

interface ListPage extends PageHead {
  readonly members: readonly {
    readonly id: number
    readonly name: string
    readonly signInName: string
    readonly since: string
    readonly isYou: boolean
    readonly roles: readonly { value: Role; label: string; selected: boolean }[]
  }[]
  readonly invitations: readonly { key: string; role: string; until: string }[]
  readonly roleField: FieldView
}

export const ROLE_HINTS =
  'A keeper invites and sees to backups; a member does their own work; a guest reads what is shared with members.'

const ROLE_FIELD: FieldSpec = {
  label: 'Role',
  hint: ROLE_HINTS,
  options: (['member', 'guest', 'keeper'] as const).map((key) => [key, ROLE_LABELS[key]] as const),
}

export function listPage(
  members: readonly Member[],
  invitations: readonly Invitation[],
  youId: number,
  zone: string,
  notice: string,
): ListPage {
  return {
    ...{ ...HEAD, title: 'People', notice },
    members: members.map(({ id, name, signInName, role, createdAt }) => ({
      ...{ id, name, signInName, since: toMoment(createdAt, zone), isYou: id === youId },
      roles: ROLE_KEYS.map((value) => ({ value, label: ROLE_LABELS[value], selected: value === role })),
    })),
    invitations: invitations.map(({ key, role, expiresAt }) => ({
      ...{ key, role: ROLE_LABELS[role], until: toMoment(expiresAt, zone) },
    })),
    roleField: formFields({ role: ROLE_FIELD }, { role: 'member' }).role,
  }
}

interface LinkPage extends PageHead {
  readonly lead: string
  readonly address: string
  readonly until: string
}

/** Shown this once: only a hash of it is kept. */
export const linkPage = (title: string, lead: string, address: string, until: string): LinkPage => ({
  ...{ ...HEAD, title, lead, address, until },
})

interface LeavePage extends PageHead {
  readonly id: number
  readonly name: string
  readonly isYou: boolean
  readonly owned: readonly string[]
  readonly heirs: readonly { value: string; label: string }[]
  readonly problems: readonly { href: string; text: string }[]
}

const NOUNS: Readonly<Record<Owned, readonly [one: string, several: string]>> = {
  ...{ source: ['source', 'sources'], original: ['original', 'originals'] },
  ...{ draft: ['draft', 'drafts'], piece: ['piece', 'pieces'], yarn: ['yarn', 'yarns'] },
  weighting: ['set of weights', 'sets of weights'],
}

export function leavePage(
  member: Member,
  owned: readonly { table: Owned; count: number }[],
  members: readonly Member[],
  youId: number,
  problem = '',
): LeavePage {
  const title = member.id === youId ? 'End your membership' : `End the membership of ${member.name}`
  return {
    ...{ ...HEAD, title },
    ...{ id: member.id, name: member.name, isYou: member.id === youId },
    owned: owned
      .filter(({ count }) => count > 0)
      .map(({ table, count }) => `${count} ${NOUNS[table][count === 1 ? 0 : 1]}`),
    heirs: members
      .filter(({ id, role }) => id !== member.id && role !== 'guest')
      .sort((left, right) => Number(right.id === youId) - Number(left.id === youId))
      .map(({ id, name }) => ({
        value: String(id),
        label: id === youId ? `It stays in the notebook, under your name (${name})` : `It goes to ${name}`,
      })),
    problems: problem ? [{ href: '#f-estate', text: problem }] : [],
  }
}
