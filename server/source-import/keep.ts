import type { Db } from '../db/open.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { readSourceForm, type SourceForm } from '../source/form.ts'
import { insertSource, updateSource, type Source } from '../source/queries.ts'
import type { ImportForm } from './form.ts'
import type { Looked } from './look.ts'

/** Keeps what was looked at, all or nothing; what is here already as the form chose for it. */
export function keepSources(db: Db, looked: readonly Looked[], form: ImportForm, at: string): void {
  db.write(() => {
    for (const entry of looked) {
      if ('problem' in entry || form.leftOut.has(entry.number)) continue
      const choice = entry.same ? form.choiceOf(entry.number) : 'add'
      if (choice === 'add') insertSource(db, entry.form, at, 0, entry.other)
      if (choice === 'fill' && entry.same && 'source' in entry.same) fillIn(db, entry.same.source, entry, at)
    }
  })
}

/** What is blank here is taken from the file; nothing that stands here is changed. */
function fillIn(db: Db, source: Source, { form, other }: Extract<Looked, { form: SourceForm }>, at: string): void {
  if (!viewerMayEdit(db, 'source', source.id)) return
  const filled = Object.fromEntries(
    (Object.keys(form) as (keyof SourceForm)[]).map((key) => [key, source[key] === '' ? form[key] : source[key]]),
  )
  const read = readSourceForm(filled)
  if (read.ok) updateSource(db, source.id, read.value, at, { ...other, ...source.other })
}
