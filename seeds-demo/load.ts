import type { Db } from '../server/db/open.ts'
import { readDecisionForm } from '../server/decision/form.ts'
import { insertDecision } from '../server/decision/queries.ts'
import { insertDraft, OWN_FRAME } from '../server/draft/queries.ts'
import { insertRevision } from '../server/draft/revision-queries.ts'
import { readJudgementForm } from '../server/fidelity/form.ts'
import { insertJudgement } from '../server/fidelity/queries.ts'
import { readOriginalForm } from '../server/original/form.ts'
import { insertOriginal } from '../server/original/queries.ts'
import { readPieceForm } from '../server/piece/form.ts'
import { insertPiece, listPieceYarns } from '../server/piece/queries.ts'
import { beginPlan } from '../server/plan/form.ts'
import { savePlan } from '../server/plan/queries.ts'
import type { Draft } from '../shared/draft/draft.ts'
import { readPlan } from '../shared/plan/read-plan.ts'
import { listDensities } from '../shared/yarn/density.ts'
import { readSittingForm } from '../server/sitting/form.ts'
import { insertSitting } from '../server/sitting/queries.ts'
import { readSourceForm } from '../server/source/form.ts'
import { insertSource } from '../server/source/queries.ts'
import { accept } from './accept.ts'
import { writeClaims, type SourceIds } from './claim-writer.ts'
import { decisions, judgements } from './fidelity.ts'
import type { DraftKey } from './draft/draft.ts'
import { writeLoomSteps } from './loom-writer.ts'
import { plans } from './plan.ts'
import { writeQuotes } from './quote-writer.ts'
import { scenario } from './scenario.ts'
import { writeLedgers, writeYarns } from './yarn-writer.ts'
import type { Original, Piece, PieceYarn, Sitting, Source } from './type.ts'

/** The scenario keeps its days whatever the clock of this machine says, so nothing in it has "not come yet". */
const LATEST = new Date('9999-12-30T00:00:00Z')

/**
 * Writes the demo collection into a notebook, all or nothing, through the forms and queries of the pages. Every row is
 * made at the same instant: that is how `removeDemo` tells what the maker has added or changed since.
 * @throws Error when a form refuses a part of it: then the collection and not the notebook is to be mended
 */
export function loadDemo(db: Db, now: Date): void {
  const at = now.toISOString()
  db.write(() => {
    const sourceIds = new Map(scenario.sources.map((source) => [source.key, writeSource(db, source, at)]))
    const originalIds = new Map(
      scenario.originals.map((original) => [original.key, writeOriginal(db, original, sourceIds, at)]),
    )
    const revisionIds = new Map<DraftKey, readonly number[]>()
    for (const key of Object.keys(scenario.drafts) as DraftKey[]) {
      const woven = scenario.pieces.find((piece) => piece.draft === key && piece.original !== undefined)
      const originalId = woven?.original === undefined ? undefined : originalIds.get(woven.original)
      revisionIds.set(key, writeDraft(db, key, originalId, at))
    }
    const lotIds = writeYarns(db, scenario.yarns, at)
    const ids = { sourceIds, originalIds, revisionIds, lotIds }
    const pieceIds = new Map(scenario.pieces.map((piece) => [piece.key, writePiece(db, piece, ids, at)]))
    writeLedgers(db, scenario.yarns, { lotIds, pieceIds }, at)
    writeLoomSteps(db, pieceIds, at)
    writeQuotes(db, pieceIds, at)
  })
}

function writeSource(db: Db, { key, ...source }: Source, at: string): number {
  return insertSource(db, accept(`source ${key}`, readSourceForm(source)), at, 1)
}

function writeOriginal(db: Db, original: Original, sourceIds: SourceIds, at: string): number {
  const [name, ...otherNames] = original.names
  const { key, holder, inventoryNumber, findPlace, findContext, dateEdtf, technique, preservation, notes } = original
  const typed = { holder, inventoryNumber, findPlace, findContext, technique, preservation, notes }
  const body = { ...typed, name, otherNames: otherNames.join('\n'), date: dateEdtf }
  const id = insertOriginal(db, accept(`original ${key}`, readOriginalForm(body)), at, 1)
  writeClaims(db, { originalId: id }, original.claims, { sourceIds, claimedBy: '' }, at)
  return id
}

/** @returns its revisions, the oldest first */
function writeDraft(db: Db, key: DraftKey, originalId: number | undefined, at: string): number[] {
  const draft = scenario.drafts[key]
  const first = scenario.firstDrafts[key]
  const { id, revisionId } = insertDraft(
    db,
    { draft: first?.draft ?? draft, notes: '', originalId, convention: OWN_FRAME },
    at,
    1,
  )
  if (!first) return [revisionId]
  const mended = insertRevision(db, id, { draft, note: first.mended }, at)
  if (mended.outcome !== 'saved') throw new Error(`draft ${key}: the mended revision says what the first one says`)
  return [revisionId, mended.id]
}

interface Ids {
  readonly sourceIds: SourceIds
  readonly originalIds: ReadonlyMap<string, number>
  readonly revisionIds: ReadonlyMap<DraftKey, readonly number[]>
  readonly lotIds: ReadonlyMap<string, number>
}

function writePiece(db: Db, piece: Piece, { sourceIds, originalIds, revisionIds, lotIds }: Ids, at: string): number {
  const { key, original, draft, revision, yarns, measurements, sittings, ...typed } = piece
  const originalId = original === undefined ? undefined : originalIds.get(original)
  const revisionId =
    draft === undefined ? undefined : revisionIds.get(draft)?.at(revision === undefined ? -1 : revision - 1)
  const body = { ...typed, ...yarnFields(yarns, lotIds), original: text(originalId), revision: text(revisionId) }
  const choices = {
    originalIds: [...originalIds.values()],
    revisionIds: [...revisionIds.values()].flat(),
    colourKeys: draft === undefined ? [] : Object.keys(scenario.drafts[draft].colours),
    lotIds: [...lotIds.values()],
    today: LATEST.toISOString().slice(0, 10),
  }
  const pieceId = insertPiece(db, accept(`piece ${key}`, readPieceForm(body, choices)), at, 1)
  if (draft !== undefined) writePlan(db, pieceId, key, scenario.drafts[draft], at)
  writeClaims(db, { pieceId }, measurements, { sourceIds, claimedBy: piece.maker }, at)
  for (const sitting of sittings) {
    const form = readSittingForm(sittingFields(sitting, piece.maker), LATEST)
    insertSitting(db, pieceId, accept(`sitting of ${key} on ${sitting.date}`, form), at)
  }
  writeFidelity(db, pieceId, key, at)
  return pieceId
}

function writeFidelity(db: Db, pieceId: number, key: string, at: string): void {
  for (const judged of judgements[key] ?? [])
    insertJudgement(db, pieceId, accept(`judgement of ${key}: ${judged.spot}`, readJudgementForm(judged)), at)
  for (const decided of decisions[key] ?? []) {
    const form = accept(`decision on ${key}: ${decided.question}`, readDecisionForm(decided))
    insertDecision(db, { noun: 'piece', id: pieceId }, form, at)
  }
}

/** The plan of a piece that has one, with the counts of its yarns as its form would offer them. */
function writePlan(db: Db, pieceId: number, key: string, draft: Draft, at: string): void {
  const typed = plans[key]
  if (!typed) return
  const entered = { ...beginPlan(listPieceYarns(db, pieceId), draft), ...typed }
  const { problems } = readPlan(entered, { draft, yarns: [], densities: listDensities([]) })
  accept(`plan of ${key}`, Object.keys(problems).length === 0 ? { ok: true, value: entered } : { ok: false, problems })
  savePlan(db, { pieceId, tablets: draft.tablets, entered }, at)
}

function yarnFields(yarns: readonly PieceYarn[], lotIds: Ids['lotIds']): Record<string, string> {
  const rows = yarns.map(({ role, yarn, count, system, ply, colourKey = '', lot = '' }, at) => ({
    [`role-${at}`]: role,
    [`yarn-${at}`]: yarn,
    [`count-${at}`]: count,
    [`countSystem-${at}`]: system,
    [`ply-${at}`]: String(ply),
    [`colourKey-${at}`]: colourKey,
    [`lot-${at}`]: text(lotIds.get(lot)),
  }))
  return Object.assign({}, ...rows) as Record<string, string>
}

function sittingFields(sitting: Sitting, maker: string): Record<string, string> {
  const { date, start, end, breakMinutes, stage, picks, repeats, lengthMm, note, zone } = sitting
  return {
    ...{ day: date, start, end, stage, note, zone, maker, nextDay: end < start ? 'yes' : '', lengthUnit: 'mm' },
    ...{ breakMinutes: text(breakMinutes), picks: text(picks), repeats: text(repeats), length: text(lengthMm) },
  }
}

const text = (value: number | undefined) => (value === undefined ? '' : String(value))
