import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { describeAgent } from './agent.ts'
import type { ApiToken } from './api-token-queries.ts'
import { ROLE_LABELS, TOKEN_DAYS } from './form.ts'
import { toMoment } from './moment.ts'
import { LEAST_CHARACTERS } from './password.ts'
import type { Member } from './queries.ts'
import type { OpenSession } from './session-queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'member/account': AccountPage
    'member/api-token': ApiTokenPage
  }
}

interface AccountPage extends PageHead {
  readonly signInName: string
  readonly role: string
  /** A guest has nothing of their own here. */
  readonly mayExport: boolean
  readonly nameField: FieldView
  readonly password: Record<'present' | 'password', FieldView>
  readonly token: Record<'name' | 'scope' | 'days', FieldView>
  readonly sessions: readonly { key: string; agent: string; since: string; seen: string; isThis: boolean }[]
  readonly hasOthers: boolean
  readonly tokens: readonly {
    readonly id: number
    readonly name: string
    readonly scope: string
    readonly until: string
    readonly isOver: boolean
    readonly lastUsed: string
  }[]
  readonly problems: readonly { href: string; text: string }[]
}

const NAME: Record<'name', FieldSpec> = { name: { label: 'Your name', autocomplete: 'name' } }

const PASSWORD: Record<'present' | 'password', FieldSpec> = {
  present: { label: 'Present password', type: 'password', autocomplete: 'current-password' },
  password: {
    ...{ label: 'New password', type: 'password', autocomplete: 'new-password' },
    hint: `At least ${LEAST_CHARACTERS} characters, spaces count.`,
  },
}

export const SCOPE_LABELS = { read: 'Read', write: 'Read and write' } as const

const TOKEN: Record<'name' | 'scope' | 'days', FieldSpec> = {
  name: { label: 'What it is for' },
  scope: { label: 'It may', options: [['read', SCOPE_LABELS.read] as const, ['write', SCOPE_LABELS.write] as const] },
  days: { label: 'It lasts', options: TOKEN_DAYS.map((days) => [days, `${days} days`] as const) },
}

/** Which of the page's forms came back, with what was typed in it and what is wrong. */
export interface CameBack {
  readonly form: 'name' | 'password' | 'token'
  readonly entered: Readonly<Record<string, string>>
  readonly problems: Readonly<Partial<Record<string, string>>>
}

export function accountPage(
  member: Member,
  sessions: readonly OpenSession[],
  tokens: readonly ApiToken[],
  { zone, now, notice = '' }: { zone: string; now: Date; notice?: string },
  back?: CameBack,
): AccountPage {
  const typed = (form: CameBack['form'], otherwise: Record<string, string>) =>
    back?.form === form ? ([back.entered, back.problems] as const) : ([otherwise, {}] as const)
  const name = formFields(NAME, ...typed('name', { name: member.name }))
  const password = formFields(PASSWORD, ...typed('password', {}))
  const tokenFields = prefixed(formFields(TOKEN, ...typed('token', { scope: 'read', days: '90' })))
  const problems = problemList({ ...tokenFields, ...password, ownName: name.name })
  const at = now.toISOString()
  return {
    ...{ section: 'home', notice, title: 'Your account' },
    ...{ signInName: member.signInName, role: ROLE_LABELS[member.role], mayExport: member.role !== 'guest' },
    ...{ nameField: name.name, password, token: tokenFields, problems },
    sessions: sessions.map(({ key, agent, createdAt, seenAt, isThis }) => ({
      ...{ key, agent: describeAgent(agent), isThis },
      ...{ since: toMoment(createdAt, zone), seen: toMoment(seenAt, zone) },
    })),
    hasOthers: sessions.some(({ isThis }) => !isThis),
    tokens: tokens.map(({ id, name, scope, expiresAt, lastUsedAt }) => ({
      ...{ id, name, scope: SCOPE_LABELS[scope], until: toMoment(expiresAt, zone), isOver: expiresAt <= at },
      lastUsed: lastUsedAt === null ? 'not yet' : toMoment(lastUsedAt, zone),
    })),
  }
}

/** Two forms of the page have a field called "name"; ids must differ. */
function prefixed<N extends string>(fields: Record<N, FieldView>): Record<N, FieldView> {
  const changed = { ...fields }
  for (const key of Object.keys(fields) as N[]) {
    const { id, describedBy } = fields[key]
    changed[key] = { ...fields[key], id: `token-${id}`, describedBy: describedBy.replaceAll('f-', 'token-f-') }
  }
  return changed
}

interface ApiTokenPage extends PageHead {
  readonly name: string
  readonly token: string
  readonly scope: string
  readonly until: string
}

/** Shown this once: only a hash of it is kept. */
export const apiTokenPage = (name: string, token: string, scope: string, until: string): ApiTokenPage => ({
  ...{ section: 'home', title: 'Your new token', name, token, scope, until },
})
