import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { readSettings } from '../../server/settings.ts'

describe('readSettings(env)', () => {
  test('binds to loopback and keeps the notebook in data unless told otherwise', () => {
    expect(readSettings({})).toEqual({
      port: 4180,
      host: '127.0.0.1',
      dataDir: 'data',
      baseUrl: undefined,
      isLoopback: true,
    })
    expect(readSettings({ PORT: ' ', HOST: '', DATA_DIR: '', BASE_URL: '' })).toEqual(readSettings({}))
  })

  test.each(['localhost', '127.0.0.1', '127.1.2.3', '::1', '[::1]'])('HOST %s is this machine alone', (host) => {
    expect(readSettings({ HOST: host })).toMatchObject({ host: host.replace(/[[\]]/g, ''), isLoopback: true })
  })

  test.each(['0.0.0.0', '::', '10.0.0.7', 'bands.example.org', '127.0.0.1.example.org', 'localhost.example.org'])(
    'HOST %s is more than this machine',
    (host) => expect(readSettings({ HOST: host })).toMatchObject({ host, isLoopback: false }),
  )

  test.each([
    ['https://bands.example.org', false],
    ['http://10.0.0.7:4180', false],
    ['http://localhost:4180/bands', true],
    ['http://127.0.0.1', true],
    ['http://[::1]:4180', true],
  ])('BASE_URL %s on a loopback HOST: this machine alone is %s', (BASE_URL, isLoopback) => {
    expect(readSettings({ BASE_URL }).isLoopback).toBe(isLoopback)
  })

  test.each(['abc', '-1', '65536', '80.5', '1e3', '0x50', '123456'])('refuses PORT %s', (port) => {
    expect(() => readSettings({ PORT: port })).toThrow(`PORT is "${port}", but must be a whole number from 0 to 65535.`)
  })

  test.each(['0', '80', ' 65535 '])('takes PORT "%s"', (port) => {
    expect(readSettings({ PORT: port }).port).toBe(Number(port))
  })

  test('takes a BASE_URL below a path and drops the slash at its end', () => {
    expect(readSettings({ BASE_URL: 'https://example.org/bands/' }).baseUrl).toBe('https://example.org/bands')
    expect(readSettings({ BASE_URL: 'https://bands.example.org' }).baseUrl).toBe('https://bands.example.org')
  })

  test.each([
    'bands',
    'ftp://example.org',
    'https://example.org/?a=1',
    'https://example.org/#top',
    'https://me@example.org',
    'https://example.org/:bands',
    'https://example.org/(bands',
    'https://example.org/a b',
    'https://example.org//bands',
  ])('refuses BASE_URL %s', (address) => {
    expect(() => readSettings({ BASE_URL: address })).toThrow(`BASE_URL is "${address}", but must be an address`)
  })
})

describe('node dist/main.js', () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'fellmark-start-'))
  })
  afterEach(() => rmSync(folder, { recursive: true, force: true }))

  const start = (env: Record<string, string>) =>
    spawn(process.execPath, ['dist/main.js'], {
      env: { PATH: process.env.PATH, DATA_DIR: join(folder, 'data'), ...env },
    })

  const ended = (env: Record<string, string>) =>
    new Promise<{ code: number | null; said: string }>((resolve) => {
      const child = start(env)
      let said = ''
      child.stderr.on('data', (part: Buffer) => (said += part.toString()))
      child.on('close', (code) => resolve({ code, said }))
    })

  test.each([
    [{ PORT: 'abc' }, /^PORT is "abc", but must be a whole number[^\n]*\n$/],
    [{ BASE_URL: 'bands' }, /^BASE_URL is "bands"[^\n]*\n$/],
  ] as [Record<string, string>, RegExp][])(
    'with %j ends with code 2 and one sentence, before a folder is made',
    async (env, sentence) => {
      const { code, said } = await ended(env)
      expect(code).toBe(2)
      expect(said).toMatch(sentence)
      expect(existsSync(join(folder, 'data'))).toBe(false)
    },
  )

  test('makes its folder, prints its address and answers there', async () => {
    const child = start({ PORT: '0' })
    try {
      const address = await new Promise<string>((resolve, reject) => {
        child.stdout.once('data', (part: Buffer) => resolve(part.toString().trim()))
        child.once('close', (code) => reject(new Error(`ended with ${code}`)))
      })
      expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/)
      expect((await fetch(`${address}sources/new`)).status).toBe(200)
      expect(existsSync(join(folder, 'data/fellmark.db'))).toBe(true)
      const { code, said } = await ended({ PORT: new URL(address).port, DATA_DIR: join(folder, 'other') })
      expect(code).toBe(2)
      expect(said).toMatch(/^PORT \d+ is in use by another program; set PORT to a free one\.\n$/)
    } finally {
      const closed = new Promise((resolve) => child.once('close', resolve))
      child.kill('SIGTERM')
      expect(await closed).toBe(0)
    }
  })

  test('told to stop closes its notebook, whoever holds a connection open', async () => {
    const child = start({ PORT: '0' })
    const address = await new Promise<string>((resolve) =>
      child.stdout.once('data', (part: Buffer) => resolve(part.toString().trim())),
    )
    const port = Number(new URL(address).port)
    const silent = connect(port, '127.0.0.1').on('error', () => undefined)
    const slow = connect(port, '127.0.0.1').on('error', () => undefined)
    slow.write(`POST /sources HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\ntitle=`)
    await once(slow, 'connect')
    const closed = new Promise((resolve) => child.once('close', resolve))
    child.kill('SIGTERM')
    expect(await closed).toBe(0)
    expect(existsSync(join(folder, 'data/fellmark.db-wal'))).toBe(false)
    silent.destroy()
    slow.destroy()
  })
})
