import { execFileSync } from 'node:child_process'
import { mkdtempSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { unpackChromium } from './chromium.ts'

const DIST = fileURLToPath(new URL('../../dist', import.meta.url))

/** Pages carry the hashed addresses of the built styles and scripts, so these are made before any test. */
export async function setup(): Promise<void> {
  execFileSync(process.execPath, ['server/build.mjs'], { stdio: 'inherit' })
  await buildWhole()
  unpackChromium()
}

/**
 * The program with its packages in one file, those aside that are not JavaScript: it is started some hundred times by the
 * tests, and most of a start is the finding of six hundred files.
 */
async function buildWhole(): Promise<void> {
  // Two runs may build at once.
  const own = mkdtempSync(join(DIST, 'whole-'))
  await build({
    ...{ absWorkingDir: join(DIST, '..'), bundle: true, platform: 'node', format: 'esm', target: 'es2022' },
    entryPoints: { 'main-whole': 'server/main.ts', 'admin-whole': 'server/admin/main.ts' },
    outdir: own,
    logLevel: 'warning',
    external: ['better-sqlite3', 'sharp', '@resvg/resvg-js', '@node-rs/argon2'],
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url)" },
  })
  for (const name of ['main-whole.js', 'admin-whole.js']) renameSync(join(own, name), join(DIST, name))
  rmSync(own, { recursive: true })
}
