import { migrations } from '../../migrations/index.ts'
import type { Db } from '../db/open.ts'
import { count, some, type Finding } from './finding.ts'

const RESTORE = 'Make a copy of the whole folder as it is, then restore the newest good backup.'

/** The file itself: its pages, and that every row has what it belongs to. */
export function checkDatabase({ raw }: Db): Finding[] {
  const findings: Finding[] = []
  const damage = raw.prepare<[], string>('pragma integrity_check(20)').pluck().all()
  if (damage[0] !== 'ok') findings.push({ what: `The database is damaged: ${some(damage, 3)}.`, todo: RESTORE })
  const lost = raw.pragma('foreign_key_check') as { table: string }[]
  if (lost.length > 0) {
    const tables = [...new Set(lost.map(({ table }) => table))]
    findings.push({
      what: `${count(lost.length, 'row')} (${some(tables)}) belong to something that is not there any more.`,
      todo: RESTORE,
    })
  }
  const step = raw.pragma('user_version', { simple: true }) as number
  if (step !== migrations.length)
    findings.push({
      what: `The structure is at step ${step}, this program is made for step ${migrations.length}.`,
      todo: 'Start the program once; it brings the notebook up to date.',
    })
  return findings
}

/** The index of words against the rows that it was made from. */
export function checkSearch({ raw }: Db): Finding[] {
  const todo =
    'Nothing that you wrote is touched, but searching may miss some of it. Restore the newest good backup, or ask.'
  try {
    raw.transaction(() => raw.exec("insert into search (search) values ('integrity-check')")).immediate()
  } catch {
    return [{ what: 'The index of words is damaged.', todo }]
  }
  const kinds = ['original', 'piece', 'draft', 'source']
  const wanted = kinds.map((kind, at) => `select id * 4 + ${at} as r from ${kind}`).join(' union all ')
  const counts = raw
    .prepare<[], { missing: number; spare: number }>(
      `with wanted as (${wanted} union all select -id from yarn), found as (select rowid as r from search)
       select (select count(*) from wanted where r not in (select r from found)) as missing,
         (select count(*) from found where r not in (select r from wanted)) as spare`,
    )
    .get()!
  if (counts.missing + counts.spare === 0) return []
  const what = `The index of words misses ${count(counts.missing, 'thing')} and lists ${count(counts.spare, 'thing')} that ${counts.spare === 1 ? 'is' : 'are'} gone.`
  return [{ what, todo }]
}
