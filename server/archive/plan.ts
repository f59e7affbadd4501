import { listDifferences, type Difference } from '../../shared/archive/difference.ts'
import type { Json } from '../../shared/archive/canonical.ts'
import type { Db } from '../db/open.ts'
import { mayEdit, mayOwn } from '../rights/rule.ts'
import { decide } from '../rights/rule.ts'
import { findStanding } from '../rights/standing.ts'
import { currentMemberId, currentViewer, isAlone } from '../rights/viewer.ts'
import { findKeysHere } from './bring-in-feature.ts'
import { CHILDREN, FIELDS, KINDS, type ArchiveRecord, type Field, type Kind, type Target } from './record.ts'
import type { Notebook } from './notebook.ts'
import { ALONE, aloneProblem, isAloneKind } from './quote-field.ts'
import { tableOf, toRecord, type Row } from './rows.ts'

/**
 * What becomes of a record. `new`: it comes in. `same`: it is here already. `conflict`: it is here and says something
 * else, somebody has to choose. `copy`: its uid is taken by something that the viewer may not see, so it comes in under
 * another. `left`: it cannot come in, for the reason said.
 */
export interface PlanItem {
  readonly kind: Kind
  readonly record: ArchiveRecord
  readonly state: 'new' | 'same' | 'conflict' | 'copy' | 'left'
  /** Of what stands here; undefined unless `same` or `conflict`. */
  readonly id: number | undefined
  readonly differences: readonly Difference[]
  /** Whether what stands here may be replaced by this viewer. */
  readonly mayReplace: boolean
  readonly why: string
}

export interface Plan {
  readonly items: readonly PlanItem[]
  /** Whether everything comes in exactly as it was: one maker, and nothing in the notebook yet. */
  readonly isExact: boolean
  /** References to what is neither in the archive nor here. */
  readonly missing: readonly { kind: Kind; record: ArchiveRecord; field: string; uid: string }[]
}

/** Facts about the row rather than about the thing; and of a photograph what is worked out from its file. */
const IGNORED = ['demo', 'visibility', 'createdAt', 'updatedAt', 'width', 'height', 'sha256']

/** What only the owner is told; an archive for others has null in the place of the first of them that a record has. */
export const OWN_WORDS = ['forWhom', 'supplier', 'priceMinor', 'priceCurrency', 'priceFor'] as const
export const isMasked = ({ forWhom, supplier }: ArchiveRecord): boolean => forWhom === null || supplier === null

/** What bringing in an archive would do, for the viewer who asks; nothing is written. */
export function planImport(db: Db, notebook: Notebook): Plan {
  const uidOf = (target: Target, id: number) =>
    db.raw
      .prepare<[number], string>(`select uid from ${tableOf(target)} where id = ?`)
      .pluck()
      .get(id) ?? null
  const known = new Map<string, PlanItem>()
  const keys = findKeysHere(db, notebook.features)
  const items = KINDS.flatMap((kind) =>
    inOrder(kind, notebook.records[kind]).map((record) => {
      const item = planRecord(db, kind, record, { known, uidOf, keys })
      known.set(`${kind} ${record.uid}`, item)
      return item
    }),
  )
  return { items, isExact: isAlone(currentViewer()) && isEmpty(db), missing: listMissing(db, notebook) }
}

/** Entries of a ledger are written in the order in which they were entered, and what they correct before them. */
function inOrder(kind: Kind, records: readonly ArchiveRecord[]): readonly ArchiveRecord[] {
  if (kind !== 'movement') return records
  const place = ({ corrects, createdAt, uid }: ArchiveRecord) =>
    `${corrects === null ? 0 : 1} ${String(createdAt)} ${uid}`
  return records.toSorted((left, right) => (place(left) < place(right) ? -1 : 1))
}

const KNOWN_STATES: readonly PlanItem['state'][] = ['new', 'same', 'conflict', 'copy']

interface Around {
  readonly known: ReadonlyMap<string, PlanItem>
  readonly uidOf: (target: Target, id: number) => string | null
  /** Of features that have another key here. */
  readonly keys: ReadonlyMap<string, string>
}

function planRecord(db: Db, kind: Kind, record: ArchiveRecord, { known, uidOf, keys }: Around): PlanItem {
  const item = { kind, record, id: undefined, differences: [], mayReplace: false, why: '' } as const
  const parent = parentOf(kind, record)
  const parentItem = parent && known.get(`${parent.kind} ${parent.uid}`)
  if (parentItem?.state === 'left') return { ...item, state: 'left', why: 'what it belongs to is left out' }
  const row = db.raw.prepare<[string], Row>(`select * from ${tableOf(kind)} where uid = ?`).get(record.uid)
  if (parentItem?.state === 'copy') return { ...item, state: row ? 'copy' : 'new' }
  // A revision goes with its draft.
  const isThere = (target: 'piece' | 'revision', uid: string) => {
    const coming = target === 'piece' ? known.get(`piece ${uid}`) : findDraftOf(known, uid)
    return (coming && KNOWN_STATES.includes(coming.state)) || findVisibleId(db, target, uid) !== undefined
  }
  if (!row) {
    const why =
      kind === 'fibre_density'
        ? rivalDensity(db, record)
        : isAloneKind(kind)
          ? aloneProblem(db, kind, record, isThere)
          : parent && parentItem?.state !== 'new'
            ? parentProblem(db, parent) || rivalProblem(db, kind, parent, record)
            : ''
    return { ...item, state: why ? 'left' : 'new', why }
  }
  const id = Number(row.id)
  const standing = findStanding(db, kind, id)
  const viewer = currentViewer()
  const may = { replace: !!standing && mayEdit(viewer, standing), own: !!standing && mayOwn(viewer, standing) }
  const isSeen = may.replace || decide({ kind: 'read', subject: kind }, viewer, standing) === 'allow'
  if (!isSeen) {
    const why =
      kind === 'fibre_density'
        ? rivalDensity(db, record)
        : isAloneKind(kind)
          ? aloneProblem(db, kind, record, isThere)
          : ''
    return { ...item, state: why ? 'left' : 'copy', why }
  }
  // What is entered in a ledger never changes, nor a step at the loom.
  if (kind === 'movement' || kind === 'loom_step' || kind === 'forecast') return { ...item, id, state: 'same' }
  const here = toRecord(db, kind, row, uidOf)
  const ignored = [...IGNORED, ...OWN_WORDS.filter(() => isMasked(record) || !may.own)]
  const differences = listDifferences(here, kind === 'claim' ? underKey(record, keys) : record, ignored)
  if (kind === 'quote' && differences.length > 0 && row.number_serial !== null)
    return { ...item, state: 'left', why: 'it stands here otherwise, and a quote that was sent is not replaced' }
  return { ...item, id, differences, mayReplace: may.replace, state: differences.length > 0 ? 'conflict' : 'same' }
}

/** A claim as it stands here once its feature has come in under a key of its own. */
const underKey = (claim: ArchiveRecord, keys: ReadonlyMap<string, string>): ArchiveRecord => ({
  ...claim,
  feature: keys.get(String(claim.feature)) ?? claim.feature ?? null,
})

const BELONGING: ReadonlySet<Kind> = new Set([
  ...(['claim', 'sitting', 'photo', 'observed', 'lot', 'movement', 'plan', 'loom_step'] as const),
  ...(['judgement', 'decision'] as const),
])

type Parent = { readonly kind: 'original' | 'piece' | 'yarn' | 'lot'; readonly uid: string }

/** What a claim, sitting, photograph, observed face, plan, step, judgement, decision, lot or movement belongs to. */
export function parentOf(kind: Kind, record: ArchiveRecord): Parent | undefined {
  if (!BELONGING.has(kind)) return undefined
  if (kind === 'lot') return { kind: 'yarn', uid: String(record.yarn) }
  if (kind === 'movement') return { kind: 'lot', uid: String(record.lot) }
  if (typeof record.piece === 'string') return { kind: 'piece', uid: record.piece }
  return { kind: 'original', uid: String(record.original) }
}

/** Why nothing can be added to what a record belongs to; empty when it can. */
function parentProblem(db: Db, { kind, uid }: Parent): string {
  const id = findId(db, kind, uid)
  const standing = id === undefined ? undefined : findStanding(db, kind, id)
  const viewer = currentViewer()
  if (
    !standing ||
    (!mayEdit(viewer, standing) && decide({ kind: 'read', subject: kind }, viewer, standing) !== 'allow')
  )
    return `the ${kind} it belongs to is neither in the archive nor here`
  return mayEdit(viewer, standing) ? '' : `the ${kind} it belongs to is somebody else’s`
}

const findDraftOf = (known: ReadonlyMap<string, PlanItem>, revisionUid: string): PlanItem | undefined =>
  [...known.values()].find(
    ({ kind, record }) => kind === 'draft' && childrenOf('draft', record).some(({ uid }) => uid === revisionUid),
  )

/** A piece has one plan, and one judgement of an aspect at a place. */
function rivalProblem(db: Db, kind: Kind, { uid }: { uid: string }, record: ArchiveRecord): string {
  if (kind === 'judgement' && record.deletedAt === null) {
    const query = `select 1 from judgement j join piece p on p.id = j.piece_id
      where p.uid = ? and j.aspect = ? and j.place = ? and j.deleted_at is null`
    const rival = db.raw.prepare(query).get(uid, record.aspect, record.place)
    return rival === undefined ? '' : 'this aspect of the piece is judged here otherwise'
  }
  if (kind !== 'plan') return ''
  const rival = db.raw.prepare('select 1 from plan join piece on piece.id = plan.piece_id where piece.uid = ?').get(uid)
  return rival === undefined ? '' : 'the piece has another plan here, and a piece has one'
}

/** A maker keeps one density a fibre. */
export function rivalDensity(db: Db, { fibre, uid }: ArchiveRecord): string {
  const rival = db.raw
    .prepare('select 1 from fibre_density where owner_id is ? and fibre = ? and uid <> ?')
    .get(currentMemberId(), String(fibre), uid)
  return rival === undefined ? '' : 'you keep another density of this fibre here, and it stays'
}

export function findId(db: Db, target: Target, uid: string): number | undefined {
  return db.raw
    .prepare<[string], number>(`select id from ${tableOf(target)} where uid = ?`)
    .pluck()
    .get(uid)
}

/** The id of something that stands here already and that the viewer may point at. */
export function findVisibleId(db: Db, target: Target, uid: string): number | undefined {
  const id = findId(db, target, uid)
  if (id === undefined) return undefined
  const subjectId =
    target === 'revision'
      ? db.raw.prepare<[number], number>('select draft_id from draft_revision where id = ?').pluck().get(id)!
      : id
  const subject = target === 'revision' ? 'draft' : target
  const standing = findStanding(db, subject, subjectId)
  const viewer = currentViewer()
  if (!standing) return undefined
  return mayEdit(viewer, standing) || decide({ kind: 'read', subject }, viewer, standing) === 'allow' ? id : undefined
}

function listMissing(db: Db, { records }: Notebook): Plan['missing'] {
  const inside = new Set<string>()
  for (const kind of KINDS) for (const { uid } of records[kind]) inside.add(`${kind} ${uid}`)
  for (const { revisions } of records.draft)
    for (const { uid } of revisions as readonly ArchiveRecord[]) inside.add(`revision ${uid}`)
  const isThere = (ref: Target, uid: string) => inside.has(`${ref} ${uid}`) || findVisibleId(db, ref, uid) !== undefined
  return KINDS.flatMap((kind) => {
    const refs = FIELDS[kind].filter((field): field is Field & { ref: Target } => field.ref !== undefined)
    return records[kind].flatMap((record) =>
      refs.flatMap(({ key, ref }) => {
        const uid: Json = record[key] ?? null
        return uid === null || isThere(ref, String(uid)) ? [] : [{ kind, record, field: key, uid: String(uid) }]
      }),
    )
  })
}

function isEmpty(db: Db): boolean {
  const tables = ['source', 'original', 'draft', 'piece', 'yarn', 'weighting', 'feature', 'fibre_density', ...ALONE]
  return tables.every((table) => db.raw.prepare(`select 1 from ${table} limit 1`).get() === undefined)
}

/** What a record is called on pages. */
export function nameOf(kind: Kind, record: ArchiveRecord): string {
  const name = {
    source: 'title',
    original: 'name',
    draft: 'title',
    piece: 'name',
    claim: 'feature',
    photo: 'caption',
    sitting: 'day',
    observed: 'note',
    ...{ yarn: 'name', lot: 'colourName', movement: 'day', plan: '', loom_step: 'at', fibre_density: 'fibre' },
    ...{ forecast: 'madeOn', quote: 'numberSerial', quote_terms: '' },
    ...{ judgement: 'aspect', decision: 'question', weighting: 'name' },
  }
  return String(record[name[kind]] ?? '') || record.uid.slice(0, 8)
}

/** Children of a record that are kept with it, as a list of records. */
export function childrenOf(kind: Kind, record: ArchiveRecord): readonly ArchiveRecord[] {
  const children = CHILDREN[kind]
  return children ? (record[children.key] as readonly ArchiveRecord[]) : []
}
