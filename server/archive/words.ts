import type { Json } from '../../shared/archive/canonical.ts'
import { FEATURES } from '../../shared/measure/feature.ts'
import type { Db } from '../db/open.ts'
import { FIELDS, type ArchiveRecord, type Kind, type Target } from './record.ts'
import { childrenOf, findVisibleId, nameOf } from './plan.ts'
import { tableOf } from './rows.ts'

export const KIND_LABELS: Readonly<Record<Kind, { one: string; many: string }>> = {
  source: { one: 'Source', many: 'sources' },
  original: { one: 'Original', many: 'originals' },
  draft: { one: 'Draft', many: 'drafts' },
  piece: { one: 'Piece', many: 'pieces' },
  claim: { one: 'Claim', many: 'claims' },
  sitting: { one: 'Sitting', many: 'sittings' },
  photo: { one: 'Photograph', many: 'photographs' },
  observed: { one: 'Observed face', many: 'observed faces' },
  yarn: { one: 'Yarn', many: 'yarns' },
  lot: { one: 'Lot', many: 'lots' },
  movement: { one: 'Entry of a ledger', many: 'entries of ledgers' },
  plan: { one: 'Plan', many: 'plans' },
  loom_step: { one: 'Step at the loom', many: 'steps at the loom' },
  fibre_density: { one: 'Density of a fibre', many: 'densities of fibres' },
  forecast: { one: 'Forecast', many: 'forecasts' },
  quote: { one: 'Quote', many: 'quotes' },
  quote_terms: { one: 'Terms of quotes', many: 'terms of quotes' },
  judgement: { one: 'Judgement', many: 'judgements' },
  decision: { one: 'Decision', many: 'decisions' },
  weighting: { one: 'Set of weights', many: 'sets of weights' },
}

/** `setAsideReason` → "Set aside reason". */
export function fieldLabel(key: string): string {
  const spaced = key.replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`).replace(/ mm$/, ' in mm')
  return spaced === 'deleted at' ? 'In the bin since' : spaced.charAt(0).toUpperCase() + spaced.slice(1)
}

/** A claim by its feature, everything else by its own name. */
export function recordLabel(kind: Kind, record: ArchiveRecord): string {
  const name = nameOf(kind, record)
  return kind === 'claim' ? (FEATURES.find(({ key }) => key === name)?.label ?? name) : name
}

const MOST_SHOWN = 1200

/** One side of a difference, for people. */
export function sayValue(db: Db, kind: Kind, key: string, value: Json, names: ReadonlyMap<string, string>): string {
  const ref = FIELDS[kind].find((field) => field.key === key)?.ref
  if (value === null || value === '') return 'nothing'
  if (ref) return names.get(`${ref} ${String(value)}`) ?? nameHere(db, ref, String(value))
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'object') return sayList(key, value as readonly ArchiveRecord[])
  const text = String(value)
  return text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN)} … (${text.length} characters)` : text
}

function nameHere(db: Db, ref: Target, uid: string): string {
  const id = ref === 'revision' ? undefined : findVisibleId(db, ref, uid)
  const named: Partial<Record<Target, string>> = {
    ...{ source: 'title', original: 'name', draft: 'title', piece: 'name', yarn: 'name', lot: 'colour_name' },
  }
  const column = named[ref]
  if (id === undefined || !column)
    return `another ${ref === 'revision' ? 'revision of a draft' : ref} (${uid.slice(0, 8)})`
  return (
    db.raw
      .prepare<[number], string>(`select ${column} from ${tableOf(ref)} where id = ?`)
      .pluck()
      .get(id) ?? uid
  )
}

function sayList(key: string, list: readonly ArchiveRecord[]): string {
  if (key !== 'yarns') {
    const said = list.map(({ number, note }) => `${String(number)}${note ? ` (${String(note)})` : ''}`)
    return `${list.length} ${list.length === 1 ? 'revision' : 'revisions'}: ${said.join(', ')}`
  }
  const said = list.map(({ role, yarn, count, countSystem, part, colourKey }) =>
    part !== undefined
      ? [String(part), String(colourKey), String(count)].filter(Boolean).join(', ')
      : [role, yarn, count === null ? '' : `${String(count)} ${String(countSystem)}`].filter(Boolean).join(', '),
  )
  return said.length === 0 ? 'no yarns' : said.join('; ')
}

/** What records of the archive are called, for the references between them. */
export function namesIn(records: Readonly<Record<Kind, readonly ArchiveRecord[]>>): ReadonlyMap<string, string> {
  const names = new Map<string, string>()
  for (const kind of Object.keys(records) as Kind[]) {
    for (const record of records[kind]) {
      names.set(`${kind} ${record.uid}`, recordLabel(kind, record))
      for (const child of childrenOf(kind, record)) {
        names.set(`revision ${child.uid}`, `${nameOf(kind, record)}, revision ${String(child.number)}`)
      }
    }
  }
  return names
}
