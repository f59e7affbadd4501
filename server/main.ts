import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createApp } from './app.ts'
import { today } from './context.ts'
import { migrate } from './db/migrate.ts'
import { openNotebook } from './db/notebook.ts'
import { NotebookRefusal } from './db/open.ts'
import { createPages } from './pages.ts'
import { basePathOf, readSettings, SettingRefusal } from './settings.ts'
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
  const db = openNotebook(dataDir)
  migrate(db.raw, { migrations, copyTo: join(dataDir, 'backups'), today: today({ now, zone }) })
  if (demo) loadDemo(db, now())
  const page = createPages(basePathOf(settings.baseUrl))
  const app = createApp({ db, page, now, zone, baseUrl: settings.baseUrl, onBroken: console.error })
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
    // A form that is still arriving gets a moment; a connection that says nothing does not keep the notebook open.
    setTimeout(() => server.closeAllConnections(), 3_000).unref()
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
