import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import type { Alone } from '../rights/rule.ts'
import { isOwn, OWNED, readable, readableFeature, type Owned } from '../rights/readable.ts'
import { currentMemberId, currentViewer, isAlone } from '../rights/viewer.ts'
import type { ArchiveFeature, Notebook } from './notebook.ts'
import { KINDS, type ArchiveRecord, type Kind, type Target } from './record.ts'
import { listRows, tableOf, toRecord, type Row } from './rows.ts'

/** `notebook`: all that may be seen. `own`: what the viewer owns, with what it rests on. `piece`: one, with the same. */
export type Scope =
  | { readonly kind: 'notebook' | 'own'; readonly withoutQuotes?: boolean }
  | { readonly kind: 'piece'; readonly id: number }

export interface GatheredPhoto {
  readonly uid: string
  readonly file: string
  readonly width: number
  readonly height: number
  /** Whether the file as it was sent may go with it: to its owner alone. */
  readonly withOriginal: boolean
}

export interface Gathered {
  readonly notebook: Notebook
  readonly photos: readonly GatheredPhoto[]
}

/** Everything of an archive but the files, at one instant: nothing can be written between two of its queries. */
export function gather(db: Db, scope: Scope): Gathered {
  const ids = listIds(db, scope)
  const uidOf = uidsOf(db, ids)
  const owners = ownership(db)
  const photos: GatheredPhoto[] = []
  const records = {} as Record<Kind, ArchiveRecord[]>
  for (const kind of KINDS) {
    records[kind] = listRows(db, kind, [...ids[kind]]).map((row) => {
      if (kind === 'photo') photos.push(toPhoto(row, owners))
      const record = toRecord(db, kind, row, uidOf)
      // The place in a source says something of it: it goes with the source only.
      if (kind === 'claim' && row.source_id !== null && !ids.source.has(Number(row.source_id)))
        return { ...record, locator: '' }
      const yarnId = kind === 'yarn' ? row.id : kind === 'lot' ? row.yarn_id : undefined
      if (yarnId !== undefined && !owners('yarn', Number(yarnId))) return withoutOwnWords(record)
      return kind === 'piece' && !owners('piece', Number(row.id)) ? { ...record, forWhom: null } : record
    })
  }
  return { notebook: { features: listFeatures(db, scope, records.claim), records }, photos }
}

type Ids = Record<Kind, Set<number>>
/** Supplier and price are for the owner of a yarn alone. */
const withoutOwnWords = (record: ArchiveRecord): ArchiveRecord =>
  'priceMinor' in record
    ? { ...record, supplier: null, priceMinor: null, priceCurrency: '', priceFor: '' }
    : { ...record, supplier: null }

function listIds(db: Db, scope: Scope): Ids {
  const pick = (table: Owned, which: ReturnType<typeof sql>) =>
    new Set(rawRows(db, sql<{ id: number }>`select id from ${sql.table(table)} where ${which}`).map((row) => row.id))
  const isPiece = scope.kind === 'piece'
  const base = (table: Owned) => {
    if (isPiece) return table === 'piece' ? sql`id = ${scope.id} and deleted_at is null` : sql`0`
    return scope.kind === 'own' ? ownedRows() : sql`(${ownedRows()} or ${readable(table)})`
  }
  const ids = {} as Ids
  for (const table of OWNED) ids[table] = pick(table, base(table))
  const add = (table: Owned, from: ReturnType<typeof sql>) => {
    for (const id of pick(table, sql`id in (${from}) and ${readable(table)}`)) ids[table].add(id)
  }
  add(
    'draft',
    sql`select r.draft_id from draft_revision r join piece p on p.draft_revision_id = r.id where p.id in ${among(ids.piece)}`,
  )
  add('original', sql`select original_id from piece where id in ${among(ids.piece)}`)
  add('original', sql`select original_id from draft where id in ${among(ids.draft)}`)
  const inPieces = sql`select l.yarn_id from lot l join piece_yarn p on p.lot_id = l.id where p.piece_id in ${among(ids.piece)}`
  add('yarn', inPieces)
  const planned = sql`(select y.lot_id, y.yarn_id from plan_yarn y join plan p on p.id = y.plan_id where p.piece_id in ${among(ids.piece)})`
  add('yarn', sql`select l.yarn_id from lot l join ${planned} y on y.lot_id = l.id`)
  add('yarn', sql`select yarn_id from ${planned} where yarn_id is not null`)
  const about = sql`(original_id in ${among(ids.original)} or piece_id in ${among(ids.piece)})`
  const children = (
    table:
      | 'claim'
      | 'photo'
      | 'sitting'
      | 'observed'
      | 'lot'
      | 'movement'
      | 'plan'
      | 'loom_step'
      | 'fibre_density'
      | 'judgement'
      | 'decision'
      | Alone,
    which: ReturnType<typeof sql>,
  ) => new Set(rawRows(db, sql<{ id: number }>`select id from ${sql.table(table)} where ${which}`).map((row) => row.id))
  // What was thrown away leaves the notebook with its owner only.
  const binOf = (owner: ReturnType<typeof sql>) =>
    isPiece ? sql`deleted_at is null` : sql`(deleted_at is null or ${owner})`
  const mine = (table: 'piece' | 'original' | 'yarn') =>
    sql`${sql.ref(`${table}_id`)} in (select id from ${sql.table(table)} where ${ownedRows()})`
  ids.claim = children('claim', about)
  ids.sitting = children('sitting', sql`piece_id in ${among(ids.piece)} and ${binOf(mine('piece'))}`)
  ids.photo = children('photo', sql`${about} and ${binOf(sql`(${mine('piece')} or ${mine('original')})`)}`)
  ids.observed = children('observed', sql`${about} and ${binOf(sql`(${mine('piece')} or ${mine('original')})`)}`)
  ids.judgement = children('judgement', sql`piece_id in ${among(ids.piece)} and ${binOf(mine('piece'))}`)
  ids.decision = children('decision', sql`${about} and ${binOf(sql`(${mine('piece')} or ${mine('original')})`)}`)
  ids.lot = children('lot', sql`yarn_id in ${among(ids.yarn)} and ${binOf(mine('yarn'))}`)
  ids.movement = children('movement', sql`lot_id in ${among(ids.lot)}`)
  ids.plan = children('plan', sql`piece_id in ${among(ids.piece)}`)
  // Whoever else may see the piece is not told of its makers' hours.
  const isMade = sql`piece_id in (select id from piece where ${isOwn('piece')})`
  ids.loom_step = children('loom_step', sql`piece_id in ${among(ids.piece)} and ${isMade}`)
  // With one piece go those that its plan rests on.
  const isMine = isPiece ? sql`${ownedRows()} and exists ${planned}` : ownedRows()
  ids.fibre_density = children('fibre_density', isMine)
  // Neither a guest of one piece nor the keeper who takes an archive out for somebody reads what clients pay.
  const isTheirs = isPiece || scope.withoutQuotes === true ? sql`0` : ownedRows()
  const revisions = sql`select id from draft_revision where draft_id in ${among(ids.draft)}`
  const isForetold = sql`(piece_id in ${among(ids.piece)} or draft_revision_id in (${revisions}))`
  ids.forecast = children('forecast', sql`${isTheirs} and ${isForetold}`)
  ids.quote = children('quote', isTheirs)
  ids.quote_terms = children('quote_terms', isTheirs)
  add('source', sql`select source_id from claim where id in ${among(ids.claim)}`)
  return ids
}

/** A condition on the rows of the four owned tables, bin included. */
function ownedRows() {
  const viewer = currentViewer()
  return isAlone(viewer) ? sql`1` : viewer.kind === 'member' ? sql`owner_id = ${viewer.id}` : sql`0`
}

const among = (ids: ReadonlySet<number>) => sql`(select value from json_each(${JSON.stringify([...ids])}))`

/** Only what is in the archive is named in it. */
function uidsOf(db: Db, ids: Ids) {
  const known = new Map<Target, Map<number, string>>()
  for (const target of [...KINDS, 'revision'] as const) {
    const query = db.raw.prepare<[], { id: number; uid: string; parent: number }>(
      `select id, uid, ${target === 'revision' ? 'draft_id' : 'id'} as parent from ${tableOf(target)}`,
    )
    const within = target === 'revision' ? ids.draft : ids[target]
    known.set(target, new Map(query.all().flatMap((row) => (within.has(row.parent) ? [[row.id, row.uid]] : []))))
  }
  return (target: Target, id: number) => known.get(target)?.get(id) ?? null
}

function ownership(db: Db): (table: 'original' | 'piece' | 'yarn', id: number) => boolean {
  const own = (table: 'original' | 'piece' | 'yarn') =>
    new Set(
      rawRows(db, sql<{ id: number }>`select id from ${sql.table(table)} where ${ownedRows()}`).map((row) => row.id),
    )
  const known = { original: own('original'), piece: own('piece'), yarn: own('yarn') }
  return (table, id) => known[table].has(id)
}

function toPhoto(row: Row, owners: ReturnType<typeof ownership>): GatheredPhoto {
  const withOriginal =
    row.piece_id === null ? owners('original', Number(row.original_id)) : owners('piece', Number(row.piece_id))
  return {
    ...{ uid: String(row.uid), file: String(row.file), width: Number(row.width), height: Number(row.height) },
    withOriginal,
  }
}

/** The features of somebody's making that the claims speak of; with a notebook all that may be seen, with one's own one's own. */
function listFeatures(db: Db, scope: Scope, claims: readonly ArchiveRecord[]): ArchiveFeature[] {
  const used = new Set(claims.map((claim) => claim.feature))
  const memberId = currentMemberId()
  const rows = db.all(db.sql.selectFrom('feature').selectAll().where(readableFeature()).orderBy('key'))
  return rows
    .filter(({ key, owner_id: ownerId }) => {
      const isOwn = memberId !== null && ownerId === memberId
      return scope.kind === 'notebook' || (scope.kind === 'own' && isOwn) || used.has(key)
    })
    .map(({ key, label, quantity, created_at: createdAt }) => ({ key, label, quantity, createdAt }))
}
