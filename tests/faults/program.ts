import { renameSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { startServer, type Running } from '../support/server.ts'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))
const PROGRAM = 'dist/faults.js'

let built: Promise<unknown> | undefined

/**
 * The program with its packages in one file, those aside that are not JavaScript: it is started some hundred times here,
 * and most of a start is the finding of six hundred files.
 */
async function buildProgram(): Promise<void> {
  // Two workers may build it at once.
  const own = `dist/faults-${process.pid}.js`
  await build({
    ...{ absWorkingDir: ROOT, bundle: true, platform: 'node', format: 'esm', target: 'es2022', logLevel: 'warning' },
    entryPoints: ['server/main.ts'],
    outfile: own,
    external: ['better-sqlite3', 'sharp', '@resvg/resvg-js', '@node-rs/argon2'],
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url)" },
  })
  renameSync(`${ROOT}${own}`, `${ROOT}${PROGRAM}`)
}

/** As `startServer`, in half the time. */
export async function startProgram(options: {
  dataDir: string
  env?: Readonly<Record<string, string>>
}): Promise<Running> {
  await (built ??= buildProgram())
  return startServer({ ...options, program: PROGRAM })
}
