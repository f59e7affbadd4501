import { hash, verify } from '@node-rs/argon2'
import { HttpError } from '../errors.ts'
import { isCommonPassword } from './common-password.ts'

// OWASP's least for argon2id, which is this library's default kind.
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 }
const AT_ONCE = 4
const MOST_WAITING = 100

export const LEAST_CHARACTERS = 15
export const MOST_CHARACTERS = 1000

/** What is wrong with a password that somebody chooses, in one sentence; undefined when it will do. */
export function passwordProblem(password: string, signInName: string): string | undefined {
  const length = [...password].length
  if (length < LEAST_CHARACTERS) {
    return `Please take at least ${LEAST_CHARACTERS} characters; four or five words that have nothing to do with each other are easy to keep.`
  }
  if (length > MOST_CHARACTERS) return `Please keep this under ${MOST_CHARACTERS} characters.`
  if (isCommonPassword(password, [signInName])) {
    return 'This is among the first that somebody would try. Please take something less usual.'
  }
  return undefined
}

/** One spelling of the same characters: keyboards differ in how they send an accent. */
const spelled = (password: string) => password.normalize('NFC')

export const hashPassword = (password: string): Promise<string> => inTurn(() => hash(spelled(password), COST))

/**
 * Whether the password fits. Without a hash (nobody of that name) the same work is done on one that fits nothing, so
 * that the time tells nobody which names there are.
 */
export async function verifyPassword(passwordHash: string | undefined, password: string): Promise<boolean> {
  standIn ??= hash('nobody signs in with this', COST)
  const against = passwordHash || (await standIn)
  const fits = await inTurn(() => verify(against, spelled(password)))
  return fits && Boolean(passwordHash)
}
let standIn: Promise<string> | undefined

// Each takes 19 MiB and a thread; many at once would leave nothing for the pages.
let running = 0
const waiting: (() => void)[] = []

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running < AT_ONCE) running++
  else {
    if (waiting.length >= MOST_WAITING) throw new HttpError(503, 'Too many sign-ins come at once. Please try again.')
    await new Promise<void>((resolve) => waiting.push(resolve))
  }
  try {
    return await work()
  } finally {
    const next = waiting.shift()
    if (next) next()
    else running--
  }
}
