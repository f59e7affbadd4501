import { cpus } from 'node:os'
import { migrate } from '../../server/db/migrate.ts'
import { openDb, type Db } from '../../server/db/open.ts'
import { letProgramAct } from '../../server/rights/viewer.ts'
import { migrations } from '../../migrations/index.ts'
import { loadDemo } from '../../seeds-demo/load.ts'
import { benchCatalogue } from './catalogue.ts'
import { benchDraftBench } from './draft-bench.ts'
import { benchEngine } from './engine.ts'
import { benchInfer } from './infer.ts'
import { benchObserved } from './observed.ts'
import { benchPages } from './page.ts'
import { benchPicture } from './picture.ts'
import { benchTell } from './tell.ts'

// Figures as ratios within one run: a machine's own speed falls out of them.

letProgramAct()
console.log(`Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'processor unknown'}`)
await benchEngine()
await benchInfer()
await benchObserved()
await benchPicture()
await benchTell()
await benchCatalogue(emptyNotebook())
const demo = emptyNotebook()
loadDemo(demo, new Date('2026-11-24T12:00:00Z'))
await benchPages(demo)
await benchDraftBench(emptyNotebook())

function emptyNotebook(): Db {
  const db = openDb(':memory:')
  migrate(db.raw, { migrations })
  return db
}
