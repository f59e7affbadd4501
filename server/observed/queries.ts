import type { Selectable } from 'kysely'
import type { Colour, ColourKey } from '../../shared/draft/draft.ts'
import type { ObservedFace } from '../../shared/draft/infer/observed.ts'
import { readObserved, writeObserved } from '../../shared/draft/infer/observed-text.ts'
import type { WovenError } from '../../shared/observed/woven-errors.ts'
import type { Db } from '../db/open.ts'
import type { ObservedRow } from '../db/observed-table.ts'
import type { ObservedValue } from './form.ts'

/** What an observed face is of. */
export type ObservedSubject = { readonly noun: 'original' | 'piece'; readonly id: number }

/** How a face differs from the draft revision that it was set beside. */
export interface KeptComparison {
  /** Undefined when the draft is gone for good; what differed is kept. */
  readonly revisionId: number | undefined
  readonly shift: number
  readonly differing: readonly WovenError[]
}

export interface Observed {
  readonly id: number
  readonly subject: ObservedSubject
  readonly photoId: number | undefined
  readonly colours: Readonly<Record<ColourKey, Colour>>
  readonly face: ObservedFace
  readonly cells: string
  readonly marks: string
  readonly observedOn: string | undefined
  readonly observedBy: string
  readonly note: string
  readonly comparison: KeptComparison | undefined
}

export function findObserved(db: Db, id: number): Observed | undefined {
  const query = db.sql.selectFrom('observed').selectAll().where('id', '=', id).where('deleted_at', 'is', null)
  const row = db.first(query)
  return row && toObserved(row)
}

/** Of one original or piece, the newest first. Whether its page may be seen is asked before. */
export function listObserved(db: Db, { noun, id }: ObservedSubject): Observed[] {
  const rows = db.all(
    db.sql
      .selectFrom('observed')
      .selectAll()
      .where(noun === 'original' ? 'original_id' : 'piece_id', '=', id)
      .where('deleted_at', 'is', null)
      .orderBy('id', 'desc'),
  )
  return rows.map(toObserved)
}

export function insertObserved(
  db: Db,
  { noun, id }: ObservedSubject,
  value: ObservedValue,
  comparison: Pick<KeptComparison, 'shift' | 'differing'> | undefined,
  at: string,
): number {
  return db.run(
    db.sql.insertInto('observed').values({
      original_id: noun === 'original' ? id : null,
      piece_id: noun === 'piece' ? id : null,
      photo_id: value.photoId ?? null,
      colours: JSON.stringify(value.colours),
      cells: writeObserved(value.face),
      marks: value.marks,
      observed_on: value.observedOn ?? null,
      observed_by: value.observedBy,
      note: value.note,
      draft_revision_id: comparison ? (value.revisionId ?? null) : null,
      shift: comparison?.shift ?? null,
      differing: comparison ? JSON.stringify(comparison.differing) : '',
      created_at: at,
      updated_at: at,
    }),
  ).id
}

function toObserved(row: Selectable<ObservedRow>): Observed {
  const subject: ObservedSubject =
    row.original_id === null ? { noun: 'piece', id: row.piece_id! } : { noun: 'original', id: row.original_id }
  const read = readObserved(row.cells)
  if (!read.ok) throw new Error(`Observed face ${row.id} cannot be read: ${read.problems[0]!.message}`)
  return {
    ...{ id: row.id, subject, photoId: row.photo_id ?? undefined },
    colours: JSON.parse(row.colours) as Observed['colours'],
    ...{ face: read.observed, cells: row.cells, marks: row.marks },
    observedOn: row.observed_on ?? undefined,
    ...{ observedBy: row.observed_by, note: row.note },
    comparison:
      row.differing === ''
        ? undefined
        : {
            revisionId: row.draft_revision_id ?? undefined,
            shift: row.shift ?? 0,
            differing: JSON.parse(row.differing) as WovenError[],
          },
  }
}
