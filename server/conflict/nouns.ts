import { PLAN_FIELDS } from '../../shared/plan/entry.ts'
import { QUOTE_FIELDS } from '../../shared/price/quote-entry.ts'
import type { Db } from '../db/open.ts'
import { findDecision } from '../decision/queries.ts'
import { findDraft } from '../draft/queries.ts'
import { typedDensity } from '../fibre/form.ts'
import { findOwnDensity } from '../fibre/queries.ts'
import { judgementSchema } from '../fidelity/form.ts'
import { findJudgement } from '../fidelity/queries.ts'
import { findOriginal } from '../original/queries.ts'
import { typedPiece } from '../piece/edit-page.ts'
import { findPiece, listPieceYarns } from '../piece/queries.ts'
import { typedSitting } from '../sitting/pages.ts'
import { findSitting } from '../sitting/queries.ts'
import { findPlanById } from '../plan/queries.ts'
import { findQuote } from '../quote/queries.ts'
import { findSource } from '../source/queries.ts'
import { typedWeighting } from '../weighting/form.ts'
import { findWeighting } from '../weighting/queries.ts'
import { typedLot } from '../yarn/lot-form.ts'
import { findLot, findYarn } from '../yarn/queries.ts'
import { typedYarn } from '../yarn/yarn-form.ts'

/** What is edited in a form of its own, and can be changed by somebody else while the form stands open. */
export const EDITED = [
  'source',
  'original',
  'draft',
  'piece',
  'sitting',
  'yarn',
  'lot',
  'plan',
  'fibre_density',
  'judgement',
  'decision',
  'weighting',
  'quote',
] as const
export type Edited = (typeof EDITED)[number]

/** The addresses of a noun's form: where it is opened, and where it goes. That of a plan names its piece. */
export const FORM_PATHS: Readonly<Record<Edited, { readonly open: RegExp; readonly save: RegExp }>> = {
  source: { open: /^\/sources\/(\d+)\/edit\/?$/i, save: /^\/sources\/(\d+)\/?$/i },
  original: { open: /^\/originals\/(\d+)\/edit\/?$/i, save: /^\/originals\/(\d+)\/?$/i },
  draft: { open: /^\/drafts\/(\d+)\/details\/?$/i, save: /^\/drafts\/(\d+)\/?$/i },
  piece: { open: /^\/pieces\/(\d+)\/edit\/?$/i, save: /^\/pieces\/(\d+)\/?$/i },
  sitting: { open: /^\/sittings\/(\d+)\/edit\/?$/i, save: /^\/sittings\/(\d+)\/?$/i },
  yarn: { open: /^\/yarns\/(\d+)\/edit\/?$/i, save: /^\/yarns\/(\d+)\/?$/i },
  lot: { open: /^\/lots\/(\d+)\/edit\/?$/i, save: /^\/lots\/(\d+)\/?$/i },
  quote: { open: /^\/quotes\/(\d+)\/?$/i, save: /^\/quotes\/(\d+)\/?$/i },
  fibre_density: { open: /^\/yarns\/fibres\/(\d+)\/edit\/?$/i, save: /^\/yarns\/fibres\/(\d+)\/?$/i },
  judgement: { open: /^\/judgements\/(\d+)\/edit\/?$/i, save: /^\/judgements\/(\d+)\/?$/i },
  decision: { open: /^\/decisions\/(\d+)\/edit\/?$/i, save: /^\/decisions\/(\d+)\/?$/i },
  weighting: { open: /^\/weightings\/(\d+)\/edit\/?$/i, save: /^\/weightings\/(\d+)\/?$/i },
  plan: { open: /^\/pieces\/(\d+)\/plan\/?$/i, save: /^\/pieces\/(\d+)\/plan\/?$/i },
}

/** What a judgement is about is said when it is made, and never changed. */
const JUDGEMENT_FIELDS = Object.keys(judgementSchema.shape).filter((field) => field !== 'spot')

/** What stands there now, as its form would show it; undefined when it is gone. */
export function findTyped(db: Db, noun: Edited, id: number): Record<string, string> | undefined {
  switch (noun) {
    case 'source':
      return toTyped(findSource(db, id), [
        'title',
        'people',
        'year',
        'kind',
        'container',
        'pages',
        'doi',
        'isbn',
        'url',
        'notes',
        ...['editors', 'volume', 'issue', 'publisher', 'place', 'edition', 'issn', 'accessedOn', 'citeKey'],
      ])
    case 'original':
      return toTyped(findOriginal(db, id), [
        ...['name', 'otherNames', 'holder', 'inventoryNumber', 'findPlace', 'findContext', 'date', 'technique'],
        ...['preservation', 'notes'],
      ])
    case 'draft': {
      const draft = findDraft(db, id)
      return draft && { title: draft.title, notes: draft.notes, original: String(draft.originalId ?? '') }
    }
    case 'piece': {
      const piece = findPiece(db, id)
      return piece && typedPiece(piece)
    }
    case 'sitting': {
      const sitting = findSitting(db, id)
      return sitting && typedSitting(sitting, [])
    }
    case 'yarn': {
      const yarn = findYarn(db, id)
      return yarn && typedYarn(yarn)
    }
    case 'lot': {
      const lot = findLot(db, id)
      return lot && typedLot(lot)
    }
    case 'quote':
      return toTyped(findQuote(db, id)?.entered, QUOTE_FIELDS)
    case 'fibre_density': {
      const density = findOwnDensity(db, id)
      return density && { ...typedDensity(density) }
    }
    case 'judgement':
      return toTyped(findJudgement(db, id), JUDGEMENT_FIELDS)
    case 'decision':
      return toTyped(findDecision(db, id), ['question', 'decided', 'evidence', 'considered', 'onDay', 'decidedBy'])
    case 'weighting': {
      const weighting = findWeighting(db, id)
      return weighting && typedWeighting(weighting)
    }
    case 'plan':
      return toTyped(findPlanById(db, id)?.entered, PLAN_FIELDS)
  }
}

function toTyped(row: object | undefined, names: readonly string[]): Record<string, string> | undefined {
  if (!row) return undefined
  const values = row as Record<string, unknown>
  return Object.fromEntries(names.map((name) => [name, String(values[name] ?? '')]))
}

/** The yarns of a piece as lines to read: rows cannot be set side by side field by field. */
export function listYarnLines(db: Db, pieceId: number): string[] {
  return listPieceYarns(db, pieceId).map(({ role, yarn, count, countSystem, ply }) =>
    [role, yarn, count && `${countSystem} ${count}, ${ply} ply`].filter(Boolean).join(': '),
  )
}

/** The yarns of a plan as lines to read. */
export function listPlanYarnLines(db: Db, planId: number): string[] {
  const entered = findPlanById(db, planId)?.entered ?? {}
  const yarns = Object.entries(entered).filter(
    ([name, typed]) => /^(?:warp-|weft$|weft-count$)/.test(name) && typed !== '',
  )
  return yarns.map(([name, typed]) => `${name.replace(/-count$/, '').replace('-', ', ')}: ${typed}`)
}

/** Form field → column of the log of changes, where the name alone does not say it. */
const COLUMNS: Readonly<Record<string, string>> = {
  date: 'date_edtf',
  original: 'original_id',
  revision: 'draft_revision_id',
  price: 'price_minor',
}

export const columnOf = (field: string): string =>
  COLUMNS[field] ?? field.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)

/** `otherNames` and `other_names` as a reader is told them: "Other names". */
export function labelOfField(name: string): string {
  const words = name.replace(/_/g, ' ').replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
  return words.charAt(0).toUpperCase() + words.slice(1)
}
