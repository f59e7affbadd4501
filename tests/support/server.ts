import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export interface Running {
  /** With a trailing slash. */
  readonly url: string
  readonly dataDir: string
  /** What it has printed so far, both ways. */
  said(): string
  stop(): Promise<void>
}

/** The program as a process of its own, on a free port: what a person starts. Build first (the global set-up does). */
export async function startServer(options: { demo?: boolean; env?: Record<string, string> } = {}): Promise<Running> {
  const dataDir = mkdtempSync(join(tmpdir(), 'fellmark-test-'))
  const child = spawn(process.execPath, ['dist/main.js', ...(options.demo ? ['--demo'] : [])], {
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
    // The test runner sets a BASE_URL of its own.
    env: { ...process.env, BASE_URL: '', PORT: '0', DATA_DIR: dataDir, ...options.env },
  })
  // A test that is cut off leaves no server behind.
  const kill = () => void child.kill('SIGKILL')
  process.once('exit', kill)
  let said = ''
  const url = await new Promise<string>((resolve, reject) => {
    const listen = (chunk: Buffer) => {
      said += chunk.toString()
      const address = /^https?:\S+$/m.exec(said)
      if (address) resolve(address[0])
    }
    child.stdout.on('data', listen)
    child.stderr.on('data', listen)
    child.once('exit', (code) => reject(new Error(`The program ended with ${code} before it listened: ${said}`)))
  })
  return {
    url,
    dataDir,
    said: () => said,
    stop: async () => {
      const ended = new Promise((resolve) => child.once('exit', resolve))
      child.kill('SIGTERM')
      await ended
      process.off('exit', kill)
      rmSync(dataDir, { recursive: true, force: true })
    },
  }
}
