import { describe, expect, test } from 'vitest'
import { PASSWORD } from '../support/guild.ts'
import { BUILT, startServer } from '../support/server.ts'

describe('node dist/main.js with HOST=0.0.0.0', () => {
  test('prints a link of which the page makes the first keeper, and logs it without a secret', async () => {
    const server = await startServer({ program: BUILT.main, env: { HOST: '0.0.0.0' } })
    try {
      const link = /^http:\S+\/setup\/[\w-]{43}$/m.exec(server.said())?.[0] ?? ''
      expect(link.startsWith(server.url)).toBe(true)
      expect((await fetch(server.url, { redirect: 'manual' })).headers.get('location')).toBe('/sign-in?next=%2F')
      expect(await (await fetch(link)).text()).toContain('Set up this notebook')
      const body = new URLSearchParams({ name: 'Oda', signInName: 'oda', password: PASSWORD })
      const origin = new URL(server.url).origin
      const post = () => fetch(link, { method: 'POST', body, headers: { Origin: origin }, redirect: 'manual' })
      const made = await post()
      expect([made.status, made.headers.get('location')]).toEqual([303, '/members?done=welcome'])
      expect((await post()).status).toBe(410)
      const cookie = (made.headers.getSetCookie()[0] ?? '').split(';')[0] ?? ''
      expect(await (await fetch(`${server.url}members`, { headers: { Cookie: cookie } })).text()).toContain('Oda')
      const logged = server
        .said()
        .split('\n')
        .filter((line) => line.startsWith('{'))
      expect(logged.map((line) => JSON.parse(line) as unknown)).toMatchObject([{ event: 'set-up', memberId: 1 }])
      expect(logged.join('')).not.toContain(link.slice(-43))
    } finally {
      await server.stop()
    }
  })

  test('on loopback prints no link and asks nobody to sign in', async () => {
    const server = await startServer({ program: BUILT.main })
    try {
      expect(server.said()).not.toContain('/setup/')
      expect((await fetch(server.url, { redirect: 'manual' })).status).toBe(200)
    } finally {
      await server.stop()
    }
  })
})
