import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium, type Browser } from 'playwright-core'
import { certificate } from './certificate.ts'

// From here, or from `dist`, where the figures of `npm run bench` are bundled.
const ROOT = ['../..', '..']
  .map((up) => fileURLToPath(new URL(up, import.meta.url)))
  .find((folder) => existsSync(join(folder, 'package.json')))!
/** Below node_modules: `npm ci` clears it away together with the package it was unpacked from. */
const UNPACKED = join(ROOT, 'node_modules/.cache/chromium-147')

/** Headless Chromium: CHROMIUM_PATH, else the system's, else the one that `npm ci` brought, unpacked once. */
export function chromiumPath(): string {
  const own = process.env.CHROMIUM_PATH
  if (own) return own
  if (existsSync('/usr/bin/chromium')) return '/usr/bin/chromium'
  return join(UNPACKED, 'chromium')
}

/**
 * Unpacks the packaged Chromium, before any test asks for it. It goes into a private folder first and is renamed when
 * whole: the package itself returns a path as soon as the file exists, half-written or not.
 */
export function unpackChromium(): void {
  if (chromiumPath() !== join(UNPACKED, 'chromium') || existsSync(UNPACKED)) return
  mkdirSync(dirname(UNPACKED), { recursive: true })
  const folder = mkdtempSync(join(dirname(UNPACKED), 'unpacking-'))
  const script = "import('@sparticuz/chromium').then((m) => m.default.executablePath())"
  execFileSync(process.execPath, ['--input-type=module', '-e', script], {
    cwd: ROOT,
    // Only where it thinks that it is on Lambda does the package unpack the shared libraries it brings.
    env: { ...process.env, TMPDIR: folder, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' },
    stdio: 'inherit',
  })
  // Its own font list names a folder of the temporary directory; without this one all text would be invisible.
  const fonts = join(UNPACKED, 'fonts')
  writeFileSync(
    join(folder, 'fonts.conf'),
    `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>${fonts}</dir><dir>/usr/share/fonts</dir><cachedir>${join(UNPACKED, 'fontcache')}</cachedir></fontconfig>`,
  )
  try {
    renameSync(folder, UNPACKED)
  } catch (error) {
    // Another run was quicker; its copy is as good.
    rmSync(folder, { recursive: true, force: true })
    if (!existsSync(UNPACKED)) throw error
  }
}

export async function launchChromium(): Promise<Browser> {
  const executablePath = chromiumPath()
  const packaged = executablePath.startsWith(UNPACKED)
  return chromium.launch({
    executablePath,
    args: [
      ...['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--hide-scrollbars'],
      ...[
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--font-render-hinting=none',
      ],
      // Names that end in `.test` are this machine, and behind the proxies of the tests stands this one certificate.
      '--host-resolver-rules=MAP *.test 127.0.0.1',
      `--ignore-certificate-errors-spki-list=${(await certificate()).fingerprint}`,
    ],
    env: {
      ...process.env,
      ...(packaged && {
        LD_LIBRARY_PATH: join(UNPACKED, 'al2023/lib'),
        FONTCONFIG_FILE: join(UNPACKED, 'fonts.conf'),
      }),
    } as Record<string, string>,
  })
}
