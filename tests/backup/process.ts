import { spawn } from 'node:child_process'

const ROOT = new URL('../..', import.meta.url).pathname
const env = (dataDir: string) => ({ ...process.env, BASE_URL: '', PORT: '0', DATA_DIR: dataDir })

export interface Server {
  /** With a trailing slash. */
  readonly url: string
  readonly said: () => string
  /** @returns the exit code; null when it was killed */
  end(signal: NodeJS.Signals): Promise<number | null>
}

/** The program on this folder, as a process of its own. */
export async function startOn(dataDir: string): Promise<Server> {
  const child = spawn(process.execPath, ['dist/main.js'], { cwd: ROOT, env: env(dataDir) })
  let said = ''
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)))
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
    said: () => said,
    end: (signal) => {
      child.kill(signal)
      return ended
    },
  }
}

/** The program where it is not to start: what it says, and its exit code. */
export const runMain = (dataDir: string) => run('dist/main.js', [], dataDir)

export const runAdmin = (dataDir: string, ...args: string[]) => run('dist/admin.js', args, dataDir)

async function run(
  file: string,
  args: readonly string[],
  dataDir: string,
): Promise<{ code: number | null; said: string }> {
  const child = spawn(process.execPath, [file, ...args], { cwd: ROOT, env: env(dataDir) })
  let said = ''
  child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()))
  child.stderr.on('data', (chunk: Buffer) => (said += chunk.toString()))
  const code = await new Promise<number | null>((resolve) => child.once('close', resolve))
  return { code, said }
}

/** A form sent from the program's own page. */
export function send(
  { url }: Pick<Server, 'url'>,
  path: string,
  fields: Record<string, string> = {},
): Promise<Response> {
  const origin = new URL(url).origin
  return fetch(`${origin}${path}`, {
    method: 'POST',
    headers: { origin },
    body: new URLSearchParams(fields),
    redirect: 'manual',
  })
}

/** Writes sources one after the other until it is stopped. @returns the titles that the program acknowledged */
export function keepWriting(
  server: Pick<Server, 'url'>,
  about = 'the band',
): { acknowledged: string[]; stop: () => Promise<void> } {
  const acknowledged: string[] = []
  let isOn = true
  const loop = async () => {
    for (let n = 1; isOn; n++) {
      const title = `Letter ${n} of ${about}`
      const answer = await send(server, '/sources', { title, kind: 'book' }).catch(() => undefined)
      if (!answer) return
      if (answer.status === 303) acknowledged.push(title)
    }
  }
  const done = loop()
  return {
    acknowledged,
    stop: () => {
      isOn = false
      return done
    },
  }
}
