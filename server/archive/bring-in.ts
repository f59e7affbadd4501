import { randomBytes } from 'node:crypto'
import type { Db } from '../db/open.ts'
import { mayComeBack } from '../disk-fault.ts'
import { HttpError } from '../errors.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { bringInFeatures } from './bring-in-feature.ts'
import { asCopy } from './copy.ts'
import type { PhotoSubject } from '../photo/queries.ts'
import { requireRoom } from '../photo/quota.ts'
import { placePhotos } from './place.ts'
import {
  findVisibleId,
  OWN_WORDS,
  parentOf,
  planImport,
  rivalDensity,
  childrenOf,
  type Plan,
  type PlanItem,
} from './plan.ts'
import { isAloneKind } from './quote-field.ts'
import { CHILDREN, FIELDS, type ArchiveRecord, type Kind } from './record.ts'
import { insertRow, tableOf, toColumns, updateRow, type IdOf, type Row } from './rows.ts'
import type { Unpacked } from './unpack.ts'

export type Choice = 'ours' | 'theirs' | 'both'
export const choiceKey = (kind: Kind, uid: string): string => `${kind}-${uid}`

export interface BroughtIn {
  readonly counts: Readonly<Record<'new' | 'same' | 'ours' | 'theirs' | 'both' | 'left', number>>
  /** What did not come in as it was, each a sentence. */
  readonly remarks: readonly string[]
}

/**
 * Brings an archive in, all or nothing, files of photographs included.
 * @param choices for each conflict, by `choiceKey`
 * @param dataDir of the notebook, where the photographs go
 * @throws HttpError 409 when a conflict has no choice: somebody changed the notebook since it was looked at
 */
export function bringIn(db: Db, unpacked: Unpacked, choices: ReadonlyMap<string, Choice>, dataDir: string): BroughtIn {
  const placed = placePhotos(dataDir)
  try {
    return db.write(() => {
      const plan = planImport(db, unpacked.notebook)
      const { remarks, keys } = bringInFeatures(db, unpacked.notebook.features)
      const writer = createWriter(db, plan, unpacked, { choices, placed, remarks, keys })
      for (const item of plan.items) writer.write(item)
      writer.finish()
      requireRoom(db, writer.pictured)
      placed.flush()
      return { counts: writer.counts, remarks }
    })
  } catch (error) {
    try {
      placed.undo(mayComeBack(error))
    } catch {
      // The disk refuses this too; what was wrong first is what is told, and orphans are swept.
    }
    throw error
  }
}

const isOwnWord = (key: string) => OWN_WORDS.some((word) => word === key)

interface Given {
  readonly choices: ReadonlyMap<string, Choice>
  readonly placed: ReturnType<typeof placePhotos>
  readonly remarks: string[]
  readonly keys: ReadonlyMap<string, string>
}

function createWriter(db: Db, plan: Plan, { photos }: Unpacked, { choices, placed, remarks, keys }: Given) {
  const ids = new Map<string, number>()
  const copied = new Set<string>()
  const counts = { new: 0, same: 0, ours: 0, theirs: 0, both: 0, left: 0 }
  const later: (() => void)[] = []
  /** What got photographs. */
  const pictured: PhotoSubject[] = []
  const idOf: IdOf = (target, uid) => ids.get(`${target} ${uid}`) ?? findVisibleId(db, target, uid) ?? null
  const isTaken = (table: string, uid: string) => {
    return db.raw.prepare(`select 1 from ${table} where uid = ?`).get(uid) !== undefined
  }
  const freshUid = (table: string, uid: string) => (isTaken(table, uid) ? randomBytes(16).toString('hex') : uid)

  function write(item: PlanItem): void {
    const { kind, record } = item
    const key = `${kind} ${record.uid}`
    const parent = parentOf(kind, record)
    const goesWithCopy = parent !== undefined && copied.has(`${parent.kind} ${parent.uid}`)
    const choice = goesWithCopy ? 'copy' : decideItem(item)
    if (choice === 'both' || choice === 'copy') copied.add(key)
    if (choice === 'left') return void counts.left++
    if (choice === 'same' || choice === 'ours') {
      ids.set(key, item.id!)
      counts[choice]++
      return rememberRevisions(item)
    }
    counts[choice === 'copy' ? 'new' : choice]++
    if (choice === 'theirs') return replace(item)
    insert(item, choice)
  }

  function decideItem({ state, kind, record, mayReplace }: PlanItem) {
    if (state !== 'conflict') return state
    const chosen = choices.get(choiceKey(kind, record.uid))
    // A piece has one plan, a maker one density a fibre: both cannot be kept, and what is here stays.
    const hasOnePlace = kind === 'plan' || kind === 'fibre_density' || isAloneKind(kind)
    const isTaken = kind === 'fibre_density' && rivalDensity(db, record) !== ''
    const choice = (chosen === 'both' && hasOnePlace) || (chosen && isTaken) ? 'ours' : chosen
    if (!choice || (choice === 'theirs' && !mayReplace))
      throw new HttpError(409, 'The notebook has changed since you looked. Please look again; nothing was brought in.')
    return choice
  }

  function insert({ kind, record }: PlanItem, how: 'new' | 'both' | 'copy'): void {
    const shown = how === 'both' ? asCopy(kind, record) : record
    const columns: Record<string, Row[string]> = toColumns(FIELDS[kind], shown, idOf)
    columns.uid = freshUid(tableOf(kind), record.uid)
    if ('visibility' in columns) {
      columns.owner_id = currentMemberId()
      if (!plan.isExact) columns.visibility = 'private'
    }
    if (kind === 'fibre_density' || isAloneKind(kind)) columns.owner_id = currentMemberId()
    if (kind === 'claim') setClaimAside(columns, record)
    if (kind === 'photo') {
      const staged = photos.get(record.uid)
      const files = staged && placed.place(staged, record)
      if (!files) {
        counts.new--
        counts.left++
        return void remarks.push(
          `The photograph “${String(record.caption)}” has no file in the archive, so it was left out.`,
        )
      }
      Object.assign(columns, files)
      const noun = columns.original_id === null ? 'piece' : 'original'
      pictured.push({ noun, id: Number(columns[`${noun}_id`]) })
    }
    const id = insertRow(db, tableOf(kind), columns)
    ids.set(`${kind} ${record.uid}`, id)
    insertChildren(kind, shown, id)
    if (kind === 'claim') finishClaim(id, record)
  }

  function insertChildren(kind: Kind, record: ArchiveRecord, id: number): void {
    const children = CHILDREN[kind]
    if (!children) return
    for (const child of childrenOf(kind, record)) {
      const columns = {
        ...toColumns(children.fields, child, idOf),
        uid: freshUid(children.table, child.uid),
        [children.parent]: id,
      }
      const childId = insertRow(db, children.table, columns)
      if (kind === 'draft') ids.set(`revision ${child.uid}`, childId)
    }
  }

  /** The row that stands here says what the archive says; whose it is and who sees it stays. */
  function replace(item: PlanItem): void {
    const { kind, record } = item
    const id = item.id!
    ids.set(`${kind} ${record.uid}`, id)
    const columns: Record<string, Row[string]> = toColumns(FIELDS[kind], record, idOf)
    for (const kept of ['demo', 'visibility', 'created_at', 'width', 'height', 'sha256']) delete columns[kept]
    // What only the owner is told stays, unless the archive says something else of it.
    for (const { key, column } of FIELDS[kind])
      if (isOwnWord(key) && !item.differences.some(({ field }) => field === key)) delete columns[column]
    if (kind === 'claim') setClaimAside(columns, record)
    updateRow(db, tableOf(kind), id, columns)
    if (kind !== 'claim') db.raw.prepare(`update ${tableOf(kind)} set version = version + 1 where id = ?`).run(id)
    if (kind === 'piece' || kind === 'plan') {
      const { table, parent } = CHILDREN[kind]!
      db.raw.prepare(`delete from ${table} where ${parent} = ?`).run(id)
      insertChildren(kind, record, id)
    }
    // Here it was not sent yet, so it has no version.
    if (kind === 'quote') insertChildren(kind, record, id)
    if (kind === 'draft') addRevisions(item)
    if (kind === 'claim') finishClaim(id, record)
  }

  /** Revisions never change: what is not here yet is added behind the ones that are. */
  function addRevisions({ record, id }: PlanItem): void {
    const fields = CHILDREN.draft!.fields
    const here = db.raw.prepare<[number], { id: number; uid: string; number: number; document: string; note: string }>(
      'select id, uid, number, document, note from draft_revision where draft_id = ?',
    )
    let last = Math.max(...here.all(id!).map(({ number }) => number))
    for (const child of childrenOf('draft', record)) {
      const columns = toColumns(fields, child, idOf)
      const twin = here.all(id!).find(({ uid }) => uid === child.uid)
      if (twin?.document === columns.document && twin?.note === columns.note) {
        ids.set(`revision ${child.uid}`, twin!.id)
        continue
      }
      last += 1
      const row = { ...columns, number: last, draft_id: id!, uid: freshUid('draft_revision', child.uid) }
      ids.set(`revision ${child.uid}`, insertRow(db, 'draft_revision', row))
    }
  }

  function rememberRevisions({ kind, record }: PlanItem): void {
    if (kind !== 'draft') return
    for (const { uid } of childrenOf('draft', record)) {
      const id = findVisibleId(db, 'revision', uid)
      if (id !== undefined) ids.set(`revision ${uid}`, id)
    }
  }

  /** Only one claim can be the working one, and it may correct one that comes after it: both wait for the end. */
  function setClaimAside(columns: Record<string, Row[string]>, { feature }: ArchiveRecord): void {
    columns.feature = keys.get(String(feature)) ?? String(feature)
    columns.working = 0
    columns.corrects_id = null
  }

  function finishClaim(id: number, record: ArchiveRecord): void {
    later.push(() => {
      if (record.corrects !== null)
        db.raw.prepare('update claim set corrects_id = ? where id = ?').run(idOf('claim', String(record.corrects)), id)
      if (record.working !== true) return
      const rival = db.raw.prepare(`select 1 from claim c join claim n on n.id = ? where c.working = 1 and c.id <> n.id
        and c.original_id is n.original_id and c.piece_id is n.piece_id and c.feature = n.feature and c.part = n.part`)
      if (rival.get(id) === undefined) return void db.raw.prepare('update claim set working = 1 where id = ?').run(id)
      remarks.push(
        `A claim about ${String(record.feature)} came in beside the working one that is here; yours stays the working one.`,
      )
    })
  }

  return { write, counts, pictured, finish: () => later.forEach((work) => work()) }
}
