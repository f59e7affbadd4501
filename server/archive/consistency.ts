import { findSpot, spotKey, type Spot } from '../../shared/fidelity/aspect.ts'
import { findFeature } from '../../shared/measure/feature.ts'
import { unitsOf, type QuantityKind } from '../../shared/measure/unit.ts'
import { readYarnBuild } from '../../shared/yarn/build.ts'
import { observedProblem } from './observed-value.ts'
import { ALONE_RULES } from './quote-field.ts'
import { LISTS, type Notebook } from './notebook.ts'
import { CHILDREN, KINDS, type ArchiveRecord, type Kind } from './record.ts'

/** What each record must be beyond the shape of its fields; the database holds the same. */
const RULES: Readonly<Partial<Record<Kind, (record: ArchiveRecord) => string>>> = {
  claim: (claim) => {
    if (!hasOneSubject(claim)) return SUBJECT
    if (claim.working === true && claim.withdrawnOn !== null) return 'withdrawn claims are not the working one.'
    return claimProblem(claim)
  },
  photo: (photo) => (hasOneSubject(photo) ? '' : SUBJECT),
  observed: (observed) => (hasOneSubject(observed) ? observedProblem(observed) : SUBJECT),
  sitting: (sitting) => {
    const { piece, startedAt, endedAt, minutes, breakMinutes } = sitting
    if (piece === null) return 'it belongs to no piece.'
    if ((startedAt === null) !== (endedAt === null)) return 'it has a start or an end, but not both.'
    if (Date.parse(String(endedAt)) < Date.parse(String(startedAt))) return 'it ends before it starts.'
    return Number(breakMinutes) > Number(minutes) ? 'its breaks are longer than it is.' : ''
  },
  yarn: ({ build }) => (build === '' || readYarnBuild(String(build)).ok ? '' : 'its spin and ply cannot be read.'),
  lot: ({ yarn, priceMinor, priceCurrency, priceFor }) => {
    if (yarn === null) return 'it belongs to no yarn.'
    const said = [priceMinor !== null, priceCurrency !== '', priceFor !== '']
    return said.every(Boolean) || !said.some(Boolean) ? '' : 'a price has an amount, a currency and what it is for.'
  },
  movement: ({ lot, kind, corrects }) => {
    if (lot === null) return 'it belongs to no lot.'
    return (kind === 'correction') === (corrects !== null) ? '' : 'a correction, and nothing else, corrects an entry.'
  },
  loom_step: ({ piece }) => (piece === null ? 'it belongs to no piece.' : ''),
  plan: ({ piece, yarns }) => {
    if (piece === null) return 'it belongs to no piece.'
    const places = (yarns as readonly ArchiveRecord[]).map(
      ({ part, colourKey }) => `${String(part)} ${String(colourKey)}`,
    )
    return new Set(places).size < places.length ? 'two of its yarns are for the same colour.' : ''
  },
  fibre_density: ({ low, high }) =>
    high === null || Number(high) > Number(low) ? '' : 'the upper end of its range is not above the lower one.',
  ...ALONE_RULES,
  judgement: ({ piece, aspect, place }) => {
    if (piece === null) return 'it belongs to no piece.'
    return findSpot(spotKey({ aspect, place } as Spot)) ? '' : 'no such aspect is judged at such a place.'
  },
  decision: (decision) => (hasOneSubject(decision) ? '' : SUBJECT),
  draft: ({ revisions }) => {
    const numbers = (revisions as readonly ArchiveRecord[]).map((revision) => revision.number)
    if (numbers.length === 0) return 'it has no revision.'
    return new Set(numbers).size < numbers.length ? 'two of its revisions have the same number.' : ''
  },
}
const SUBJECT = 'it must belong to either an original or a piece.'
const hasOneSubject = ({ original, piece }: ArchiveRecord) => (original === null) !== (piece === null)

function claimProblem(claim: ArchiveRecord): string {
  const needed = { value: ['value'], range: ['low', 'high'], readings: ['readings'], text: ['words'], blank: ['blank'] }
  const kind = claim.kind as keyof typeof needed
  if (needed[kind].every((field) => claim[field] === null)) return `a claim of the kind “${kind}” needs its value.`
  const isMeasured = kind === 'value' || kind === 'range' || kind === 'readings'
  return isMeasured === (claim.unit !== '') ? '' : 'measured values have a unit, and only they.'
}

/** What is wrong between the fields and between the records: `claims[3]: …`; references are looked at later. */
export function listInconsistencies({ features, records }: Notebook, most = 20): string[] {
  const problems: string[] = []
  const uids = new Set<string>()
  const entries = new Map(records.movement.map((record) => [record.uid, record]))
  const kinds = new Map(features.map((feature) => [feature.key, feature.quantity]))
  for (const kind of KINDS) {
    records[kind].forEach((record, at) => {
      const say = (problem: string) => problems.push(`${LISTS[kind]}[${at}]: ${problem}`)
      const children = CHILDREN[kind]
      const nested = children ? (record[children.key] as readonly ArchiveRecord[]).map((child) => child.uid) : []
      for (const uid of [record.uid, ...nested]) {
        if (uids.has(uid)) say(`its uid ${uid} is there twice.`)
        uids.add(uid)
      }
      const problem = RULES[kind]?.(record) ?? ''
      if (problem) say(problem)
      if (kind === 'movement' && !correctsWithin(record, entries)) say('it corrects no entry of its own lot.')
      if (kind === 'claim' && !fitsFeature(record, kinds))
        say(`the unit ${String(record.unit)} does not fit its feature.`)
    })
    if (problems.length >= most) break
  }
  const fibres = records.fibre_density.map(({ fibre }) => fibre)
  if (new Set(fibres).size < fibres.length) problems.push('fibreDensities: two are of the same fibre.')
  if (records.quote_terms.length > 1) problems.push('quoteTerms: a maker has one set of terms.')
  if (new Set(features.map(({ key }) => key)).size < features.length) problems.push('features: two have the same key.')
  return problems.slice(0, most)
}

/** An entry is corrected within the ledger that it stands in, and a correction is not corrected itself. */
function correctsWithin({ corrects, lot }: ArchiveRecord, entries: ReadonlyMap<string, ArchiveRecord>): boolean {
  if (corrects === null) return true
  const corrected = entries.get(String(corrects))
  return corrected?.lot === lot && corrected?.corrects === null
}

/** A value in a unit of another sort cannot be computed with; a feature that nobody knows has no units at all. */
function fitsFeature({ feature, unit }: ArchiveRecord, own: ReadonlyMap<string, string>): boolean {
  if (unit === '') return true
  const known = findFeature(String(feature))
  if (known) return known.units.some((each) => each === unit)
  const kind = own.get(String(feature))
  return kind !== undefined && kind !== 'text' && unitsOf(kind as QuantityKind).some((each) => each === unit)
}
