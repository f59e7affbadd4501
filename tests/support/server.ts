import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))

/** What `npm start` and `npm run admin` start: their packages are found when they start. */
export const BUILT = { main: 'dist/main.js', admin: 'dist/admin.js' }

export interface Running {
  /** With a trailing slash. */
  readonly url: string
  readonly dataDir: string
  readonly pid: number
  /** What it has printed so far, both ways. */
  said(): string
  /** Ends it in an orderly way; its folder goes too, unless the test gave one. */
  stop(): Promise<void>
  /** @returns the exit code; null when it was killed */
  end(signal: NodeJS.Signals): Promise<number | null>
  /** As `end` returns, once it ends by itself. */
  readonly ended: Promise<number | null>
}

interface Options {
  readonly demo?: boolean
  /** A folder that stays; a new one that goes again if left out. */
  readonly dataDir?: string
  /** Of Node, before the program. */
  readonly flags?: readonly string[]
  readonly env?: Readonly<Record<string, string>>
  /** The whole program in one file if left out, which halves a start; `BUILT` is what people start. */
  readonly program?: string
}

// The test runner sets a BASE_URL of its own.
const envOf = (dataDir: string, more: Options['env'] = {}) => ({
  ...{ ...process.env, BASE_URL: '', PORT: '0', DATA_DIR: dataDir },
  ...more,
})

/** It has ended before it listened. */
export class NotStarted extends Error {
  constructor(
    readonly code: number | null,
    said: string,
  ) {
    super(`The program ended with ${code} before it listened: ${said}`)
  }
}

/** The program as a process of its own, on a free port. Build first (the global set-up does). */
export async function startServer(options: Options = {}): Promise<Running> {
  const dataDir = options.dataDir ?? mkdtempSync(join(tmpdir(), 'fellmark-test-'))
  const args = [...(options.flags ?? []), options.program ?? 'dist/main-whole.js', ...(options.demo ? ['--demo'] : [])]
  const child = spawn(process.execPath, args, { cwd: ROOT, env: envOf(dataDir, options.env) })
  // A test that is cut off leaves no server behind.
  const kill = () => void child.kill('SIGKILL')
  process.once('exit', kill)
  const ended = new Promise<number | null>((resolve) => {
    child.once('exit', (code) => {
      process.off('exit', kill)
      resolve(code)
    })
  })
  let said = ''
  const url = await new Promise<string>((resolve, reject) => {
    const listen = (chunk: Buffer) => {
      said += chunk.toString()
      const address = /^https?:\S+$/m.exec(said)
      if (address) resolve(address[0])
    }
    child.stdout.on('data', listen)
    child.stderr.on('data', listen)
    child.once('close', (code) => reject(new NotStarted(code, said)))
  })
  const end = (signal: NodeJS.Signals) => {
    child.kill(signal)
    return ended
  }
  const stop = async () => {
    await end('SIGTERM')
    if (options.dataDir === undefined) rmSync(dataDir, { recursive: true, force: true })
  }
  return { url, dataDir, pid: child.pid ?? 0, said: () => said, stop, end, ended }
}

export interface Ended {
  /** Null when it was killed. */
  readonly code: number | null
  readonly said: string
}

/** The program where it is not to start: what it says, and its exit code. */
export const runMain = (dataDir: string, env?: Options['env']) => run(['dist/main-whole.js'], dataDir, env)

export const runAdmin = (dataDir: string, ...args: string[]) => run(['dist/admin-whole.js', ...args], dataDir)

/** As `runAdmin`, from the files that people start. */
export const runBuiltAdmin = (dataDir: string, ...args: string[]) => run([BUILT.admin, ...args], dataDir)

async function run(args: readonly string[], dataDir: string, env?: Options['env']): Promise<Ended> {
  const child = spawn(process.execPath, args, { cwd: ROOT, env: envOf(dataDir, env) })
  let said = ''
  child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()))
  child.stderr.on('data', (chunk: Buffer) => (said += chunk.toString()))
  const code = await new Promise<number | null>((resolve) => child.once('close', resolve))
  return { code, said }
}

/** A form sent from the program's own page. */
export function send(
  { url }: Pick<Running, 'url'>,
  path: string,
  fields: Readonly<Record<string, string>> | FormData = {},
  headers: Readonly<Record<string, string>> = {},
): Promise<Response> {
  const { origin } = new URL(url)
  const body = fields instanceof FormData ? fields : new URLSearchParams(fields)
  return fetch(`${origin}${path}`, { method: 'POST', headers: { origin, ...headers }, body, redirect: 'manual' })
}
