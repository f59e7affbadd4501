import { z } from 'zod'
import type { Role } from '../db/tables.ts'
import { choice, line, requiredLine, type Parsed, type Problems, parseForm } from '../form.ts'
import { passwordProblem } from './password.ts'

export const ROLE_KEYS = ['keeper', 'member', 'guest'] as const satisfies readonly Role[]
export const ROLE_LABELS: Readonly<Record<Role, string>> = { keeper: 'Keeper', member: 'Member', guest: 'Guest' }

export const signInNameText = () =>
  line(60)
    .transform((text) => text.normalize('NFC').toLowerCase())
    .refine(
      (text) => /^[\p{L}\p{M}\p{N}][\p{L}\p{M}\p{N}._@-]{1,59}$/u.test(text),
      'Please take 2 to 60 letters, figures, or one of . _ - @, without spaces.',
    )

/** Spaces count, at the ends too; what is asked of it stands in `passwordProblem`. */
const password = () => z.string()

/** Of somebody who makes their account. */
const accountSchema = z.object({
  name: requiredLine('Please say what the others call you.', 100),
  signInName: signInNameText(),
  password: password(),
})
export type AccountForm = z.output<typeof accountSchema>
export type AccountEntered = Record<keyof AccountForm, string>

export function readAccountForm(body: unknown): Parsed<AccountForm, AccountEntered> {
  const form = parseForm(body, accountSchema)
  const typed = form.ok ? form.value : form.entered
  const problem = passwordProblem(typed.password, typed.signInName)
  if (!problem) return form
  const problems: Problems<AccountEntered> = { ...(form.ok ? {} : form.problems), password: problem }
  return { ok: false, entered: typed, problems }
}

const newPasswordSchema = z.object({ password: password() })
export type NewPasswordEntered = Record<keyof z.output<typeof newPasswordSchema>, string>

export function readNewPassword(body: unknown, signInName: string): Parsed<{ password: string }, NewPasswordEntered> {
  const form = parseForm(body, newPasswordSchema)
  if (!form.ok) return form
  const problem = passwordProblem(form.value.password, signInName)
  return problem ? { ok: false, entered: form.value, problems: { password: problem } } : form
}

export const changePasswordSchema = z.object({ present: z.string(), password: password() })

/** Whatever is typed is tried: a name that cannot be one gets the same answer as one that nobody has. */
export const signInSchema = z.object({
  signInName: z.string().transform((text) => text.trim().normalize('NFC').toLowerCase().slice(0, 300)),
  password: z.string(),
})

export const nameSchema = z.object({ name: requiredLine('Please say what the others call you.', 100) })

export const roleSchema = z.object({ role: choice(ROLE_KEYS, 'Please choose a role.') })

export const leaveSchema = z.object({
  /** The id of the member who takes over, or `bin`. */
  estate: z
    .string()
    .refine((text) => text === 'bin' || /^[1-9]\d{0,14}$/.test(text), 'Please say what happens to their work.'),
})

export const TOKEN_DAYS = ['7', '30', '90', '365'] as const

export const apiTokenSchema = z.object({
  name: requiredLine('Please say what the token is for.', 100),
  scope: choice(['read', 'write'] as const, 'Please choose what it may do.'),
  days: choice(TOKEN_DAYS, 'Please choose how long it lasts.'),
})
