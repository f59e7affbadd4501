import { mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { addressOf } from './address.ts'
import { createApp } from './app.ts'
import { scheduleStages } from './archive/schedule.ts'
import { keepReferences } from './citation/keep.ts'
import { today } from './context.ts'
import { noteNewestChange, scheduleNewestChange } from './backup/newest-change.ts'
import { openNotebook } from './backup/open-notebook.ts'
import { scheduleBackups } from './backup/schedule.ts'
import { scheduleBin } from './bin/schedule.ts'
import { holdInstance } from './db/instance.ts'
import { makeFolder } from './db/notebook.ts'
import { NotebookRefusal } from './db/open.ts'
import { logToStderr } from './log.ts'
import { listSetupLines } from './member/setup-line.ts'
import { createPages } from './pages.ts'
import { sweepStaging } from './photo/check.ts'
import { asViewer, PROGRAM } from './rights/viewer.ts'
import { basePathOf, readSettings, SettingRefusal } from './settings.ts'
import { loadDemo } from '../seeds-demo/load.ts'
import { loadDemoPhotos } from '../seeds-demo/photo/load.ts'

const demo = process.argv.includes('--demo')

try {
  await start()
} catch (error) {
  if (!(error instanceof SettingRefusal || error instanceof NotebookRefusal)) throw error
  console.error(error.message)
  process.exitCode = 2
}

async function start(): Promise<void> {
  const settings = readSettings(process.env)
  const now = () => new Date()
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone
  const dataDir = demo ? throwAwayFolder() : settings.dataDir
  makeFolder(dataDir)
  const release = holdInstance(dataDir)
  const db = openNotebook(dataDir, today({ now, zone }))
  sweepStaging(dataDir, new Date(now().getTime() - 3_600_000))
  if (demo) {
    asViewer(PROGRAM, () => loadDemo(db, now()))
    await loadDemoPhotos({ db, dataDir })
  }
  const references = keepReferences(db, console.error)
  const app = createApp({
    db,
    references,
    dataDir,
    isDemo: demo,
    isLoopback: settings.isLoopback,
    page: createPages(basePathOf(settings.baseUrl)),
    now,
    zone,
    baseUrl: settings.baseUrl,
    log: logToStderr(now),
    onBroken: console.error,
  })
  // Looked at each second: the library's own half a minute would let slow connections live three times as long as is said below.
  const server = createServer({ connectionsCheckingInterval: 1_000 }, app)
  server.once('error', (error) => {
    console.error(listenSentence(error, settings.port))
    process.exit(2)
  })
  server.listen(settings.port, settings.host, () => {
    const { port } = server.address() as { port: number }
    const address = addressOf(settings, port)
    const setup = settings.isLoopback ? [] : listSetupLines(db, address, now())
    console.log([settings.baseUrl ?? `${address}/`, ...setup].join('\n'))
  })
  server.headersTimeout = 10_000
  // Of uploads; all else has 30 s, see `timelyBody`.
  server.requestTimeout = 300_000
  server.maxConnections = 512
  server.maxRequestsPerSocket = 1_000
  scheduleBin({ db, now, onBroken: console.error })
  // What another version of the engine or the styles printed, and what was brought in from elsewhere.
  void references.bringUpToDate()
  scheduleStages({ dataDir, now, onBroken: console.error })
  if (!demo) scheduleBackups({ db, dataDir, now, onBroken: console.error })
  scheduleNewestChange(db, dataDir)
  const stop = () => {
    server.close(() => {
      noteNewestChange(db, dataDir)
      db.close()
      release()
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
