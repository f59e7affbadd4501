import { createHash, randomBytes } from 'node:crypto'

/** 256 random bits for a cookie, a link or a program, and what is kept of them. */
export function newToken(): { token: string; hash: string } {
  const token = randomBytes(32).toString('base64url')
  return { token, hash: hashToken(token) }
}

/** Only this is kept. The bits are random, so a fast hash is enough. */
export const hashToken = (token: string): string => createHash('sha256').update(token).digest('hex')
