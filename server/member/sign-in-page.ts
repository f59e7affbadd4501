import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { AccountEntered, NewPasswordEntered } from './form.ts'
import { LEAST_CHARACTERS } from './password.ts'

declare module '../pages.ts' {
  interface Pages {
    'member/sign-in': SignInPage
    'member/join': JoinPage
    'member/gone': GonePage
    'member/resend': ResendPage
  }
}

interface FormPage extends PageHead {
  readonly heading: string
  readonly action: string
  readonly problems: readonly { href: string; text: string }[]
}

interface SignInPage extends FormPage {
  readonly fields: Record<'signInName' | 'password', FieldView>
  readonly next: string
  /** One sentence where nobody can sign in yet. */
  readonly nobody: string
}

const HEAD = { section: 'home' } as const

const SIGN_IN: Record<'signInName' | 'password', FieldSpec> = {
  signInName: { label: 'Sign-in name', autocomplete: 'username', plain: true },
  password: { label: 'Password', type: 'password', autocomplete: 'current-password' },
}

/** @param problem one sentence that does not say which of the two was wrong */
export function signInPage(
  { signInName, next }: { signInName: string; next: string },
  problem = '',
  nobody = '',
  notice = '',
): SignInPage {
  const fields = formFields(SIGN_IN, { signInName })
  return {
    ...HEAD,
    title: 'Sign in',
    ...{ heading: 'Sign in', action: '/sign-in', fields, next, nobody, notice },
    problems: problem ? [{ href: '#f-signInName', text: problem }] : [],
  }
}

interface JoinPage extends FormPage {
  readonly lead: string
  readonly fields: readonly FieldView[]
  readonly submit: string
}

const NEW_PASSWORD: FieldSpec = {
  label: 'Password',
  type: 'password',
  autocomplete: 'new-password',
  required: true,
  hint: `At least ${LEAST_CHARACTERS} characters, spaces count. Pasting from a password keeper is welcome.`,
}

export const ACCOUNT_FIELDS: Record<keyof AccountEntered, FieldSpec> = {
  name: { label: 'Your name', hint: 'As the others see it.', autocomplete: 'name', required: true },
  signInName: {
    ...{ label: 'Sign-in name', autocomplete: 'username', plain: true, required: true },
    hint: 'Letters, figures, and . _ - @; capitals make no difference.',
  },
  password: NEW_PASSWORD,
}

export const BLANK_ACCOUNT: AccountEntered = { name: '', signInName: '', password: '' }

const JOIN_WORDS = {
  setup: {
    heading: 'Set up this notebook',
    lead: 'You make the first account. It keeps the notebook: you invite the others, and what is in it already is yours.',
    submit: 'Make my account',
  },
  invite: {
    heading: 'Join this notebook',
    lead: 'Somebody who keeps this notebook has invited you. Choose how you are called and how you sign in.',
    submit: 'Make my account',
  },
} as const

/** The page behind a set-up link or an invitation. */
export function joinPage(
  kind: 'setup' | 'invite',
  token: string,
  entered: AccountEntered = BLANK_ACCOUNT,
  problems: Problems<AccountEntered> = {},
): JoinPage {
  const fields = formFields(ACCOUNT_FIELDS, entered, problems)
  return { ...formHead(JOIN_WORDS[kind], fields), action: `/${kind}/${token}`, fields: Object.values(fields) }
}

/** The page behind a keeper's link for somebody who has lost their password. */
export function resetPage(
  token: string,
  signInName: string,
  entered: NewPasswordEntered = { password: '' },
  problems: Problems<NewPasswordEntered> = {},
): JoinPage {
  const fields = formFields({ password: { ...NEW_PASSWORD, label: 'New password' } }, entered, problems)
  const words = {
    heading: 'Choose a new password',
    lead: `For the sign-in name ${signInName}. Every browser in which you are signed in is signed out, and tokens for programs end.`,
    submit: 'Set the password',
  }
  return { ...formHead(words, fields), action: `/reset/${token}`, fields: Object.values(fields) }
}

function formHead(words: { heading: string; lead: string; submit: string }, fields: Record<string, FieldView>) {
  const problems = problemList(fields)
  return { ...HEAD, ...words, title: words.heading, problems }
}

interface GonePage extends PageHead {
  readonly message: string
}

/** Says the same of a link that was used, is too old, or never was. */
export const gonePage = (kind: 'setup' | 'invite' | 'reset'): GonePage => ({
  ...HEAD,
  title: 'This link does not open anything any more',
  message:
    kind === 'setup'
      ? 'It was used, or is more than an hour old. If nobody has set the notebook up yet, start the program again: it prints a new one.'
      : 'It was used, or is too old. Ask whoever keeps the notebook for a new one.',
})

interface ResendPage extends PageHead {
  readonly action: string
  /** Not where it was no plain form: a file has to be chosen again. */
  readonly canResend: boolean
  readonly fields: readonly { name: string; value: string }[]
}

/** What somebody typed whose session had ended meanwhile, ready to be sent again. Passwords are not given back. */
export function resendPage(action: string, body: unknown): ResendPage {
  const typed = Object.entries(typeof body === 'object' && body !== null ? body : {}) as [string, unknown][]
  return {
    ...HEAD,
    title: 'You are signed out',
    action,
    canResend: body !== undefined,
    fields: typed
      .filter(([name]) => name !== 'password' && name !== 'present')
      .flatMap(([name, value]) => (Array.isArray(value) ? value : [value]).map((each: unknown) => ({ name, each })))
      .flatMap(({ name, each }) => (typeof each === 'string' ? [{ name, value: each }] : [])),
  }
}
