import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createApp } from './app.ts'
import { today } from './context.ts'
import { migrate } from './db/migrate.ts'
import { NotebookRefusal, openDb } from './db/open.ts'
import { createPages } from './pages.ts'
import { asViewer, PROGRAM } from './rights/viewer.ts'
import { readSettings, SettingRefusal } from './settings.ts'
import { migrations } from '../migrations/index.ts'
import { loadDemo } from '../seeds-demo/load.ts'

const demo = process.argv.includes('--demo')

try {
  start()
} catch (error) {
  if (!(error instanceof SettingRefusal || error instanceof NotebookRefusal)) throw error
  console.error(error.message)
  process.exitCode = 2
}

function start(): void {
  const settings = readSettings(process.env)
  const now = () => new Date()
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone
  const dataDir = demo ? throwAwayFolder() : settings.dataDir
  mkdirSync(dataDir, { recursive: true })
  const db = openDb(join(dataDir, 'fellmark.db'))
  migrate(db.raw, { migrations, copyTo: join(dataDir, 'backups'), today: today({ now, zone }) })
  if (demo) asViewer(PROGRAM, () => loadDemo(db, now()))
  const base = settings.baseUrl === undefined ? '' : new URL(settings.baseUrl).pathname.replace(/\/+$/, '')
  const app = createApp({
    db,
    dataDir,
    isLoopback: true,
    page: createPages(base),
    now,
    zone,
    baseUrl: settings.baseUrl,
    onBroken: console.error,
  })
  const server = app.listen(settings.port, settings.host, (error) => {
    if (error) {
      console.error(listenSentence(error, settings.port))
      process.exit(2)
    }
    const { port } = server.address() as { port: number }
    const host = settings.host.includes(':') ? `[${settings.host}]` : settings.host
    console.log(settings.baseUrl ?? `http://${host}:${port}/`)
  })
  server.headersTimeout = 10_000
  server.requestTimeout = 30_000
  const stop = () => {
    server.close(() => {
      db.close()
      process.exit(0)
    })
    server.closeIdleConnections()
    setTimeout(() => process.exit(1), 10_000).unref()
  }
  process.once('SIGTERM', stop)
  process.once('SIGINT', stop)
}

function throwAwayFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'fellmark-demo-'))
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  return folder
}

function listenSentence(error: Error & { code?: string }, port: number): string {
  if (error.code === 'EADDRINUSE') return `PORT ${port} is in use by another program; set PORT to a free one.`
  return `The program cannot listen on PORT ${port}: ${error.message}.`
}
