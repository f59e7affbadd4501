import { describe, expect, test } from 'vitest'
import { isCommonPassword } from '../../server/member/common-password.ts'
import { hashPassword, passwordProblem, verifyPassword } from '../../server/member/password.ts'
import { newToken } from '../../server/member/token.ts'

describe('passwordProblem(password, signInName)', () => {
  test.each([
    'seven herons over the marsh',
    '  a heron  and its   shadow ',
    '日本の布は美しいと思います。本当に',
    'the weir, the alder, '.repeat(47) + 'rain',
  ])('takes "%s"', (password) => {
    expect(passwordProblem(password, 'oda')).toBeUndefined()
  })

  test('counts characters, not bytes or halves of characters', () => {
    expect(passwordProblem('🧵🪡🧶🐑'.repeat(3) + '🐏🐐', 'oda')).toContain('at least 15')
    expect(passwordProblem('🧵🪡🧶🐑'.repeat(3) + '🐏🐐🐇', 'oda')).toBeUndefined()
  })
})

describe('isCommonPassword(password, own)', () => {
  test.each([
    'aaaaaaaaaaaaaaa',
    'abcabcabcabcabcabc',
    '123456789012345',
    '987654321098765',
    '111111222222333333',
    '               x',
    'qwertyuiopqwertyuiop',
    'abcdefghijklmnop',
    'password password',
    'Password1Password2',
    'P@ssword-P@ssword-1',
    'iloveyou iloveyou!',
    'correct horse battery staple',
    'summer2026summer2026',
    'oda-oda-oda-oda-oda',
  ])('knows "%s"', (password) => {
    expect(isCommonPassword(password, ['oda'])).toBe(true)
  })

  test.each(['seven herons over the marsh', '483920175566104', 'summer herons 2026 xk', 'odaodaodaodaodo'])(
    'lets "%s" pass',
    (password) => {
      expect(isCommonPassword(password, ['oda'])).toBe(false)
    },
  )

  test('reads a thousand characters to their end', () => {
    expect(isCommonPassword(`${'password'.repeat(124)}xkv`, [])).toBe(false)
  })
})

describe('hashPassword(password)', () => {
  test('is argon2id with 19 MiB, two passes, one lane, and a salt of its own', async () => {
    const [first, second] = [await hashPassword('seven herons'), await hashPassword('seven herons')]
    // OWASP Password Storage Cheat Sheet, least settings of argon2id: m=19456, t=2, p=1 (from memory).
    expect(first).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/)
    expect(first).not.toBe(second)
  })

  test('fits the same characters however the keyboard spells them, and no others', async () => {
    const hash = await hashPassword('caf\u00e9 at the weir')
    expect(await verifyPassword(hash, 'cafe\u0301 at the weir')).toBe(true)
    expect(await verifyPassword(hash, 'cafe at the weir')).toBe(false)
  })

  test('verifyPassword without a hash fits nothing, not even its stand-in', async () => {
    expect(await verifyPassword(undefined, 'nobody signs in with this')).toBe(false)
    expect(await verifyPassword('', 'nobody signs in with this')).toBe(false)
  })

  test('beyond 4 at once and 100 waiting, more are sent away', async () => {
    const asked = await Promise.allSettled(Array.from({ length: 110 }, () => verifyPassword(undefined, 'x')))
    expect(asked.filter(({ status }) => status === 'rejected')).toHaveLength(6)
    expect(await verifyPassword(await hashPassword('seven herons'), 'seven herons')).toBe(true)
  })
})

test('newToken() gives 256 bits that are never the same', () => {
  const tokens = Array.from({ length: 1000 }, () => newToken().token)
  expect(new Set(tokens).size).toBe(1000)
  expect(tokens.every((token) => Buffer.from(token, 'base64url').length === 32)).toBe(true)
})
