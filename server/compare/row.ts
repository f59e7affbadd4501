import { compareQuantities, type Comparison, type Verdict } from '../../shared/measure/compare.ts'
import { BASES, labelOf, STATES } from '../../shared/measure/claim-word.ts'
import { FEATURE_GROUPS, isQuantity, type Feature } from '../../shared/measure/feature.ts'
import { toStatedValue } from '../../shared/measure/stated-value.ts'
import { toDecimals } from '../../shared/measure/rounding.ts'
import { UNITS } from '../../shared/measure/unit.ts'
import { figureOf } from '../claim/figure.ts'
import { hiddenName } from '../rights/allowed.ts'
import type { Claim } from '../claim/queries.ts'
import type { Evidence, EvidenceOf } from './evidence.ts'

/** One side of a row as the page shows it. */
export interface SideView {
  readonly main: string
  readonly look: 'number' | 'words' | 'blank' | 'nothing'
  /** `n = 5; u = 0.12 mm; washed, seen on the object`. */
  readonly details: string
  /** Where the figure came from, and what that is called. */
  readonly path: string
  readonly from: string
}

export interface RowView {
  readonly key: string
  readonly label: string
  readonly original: SideView
  readonly replica: SideView
  readonly result: ResultView | undefined
  /** Why there is no ratio; empty when there is one. */
  readonly noResult: string
}

export interface ResultView {
  readonly verdict: Verdict
  readonly words: string
  readonly ratio: string
  /** `95 %: 1.49 to 1.59`; says so when there is none. */
  readonly interval: string
  readonly method: string
  /** What would decide it, and cautions. */
  readonly remarks: readonly string[]
}

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  agrees: 'agrees within uncertainty',
  larger: 'larger than the original',
  smaller: 'smaller than the original',
  undecided: 'cannot be decided',
}

export interface SubjectPaths {
  readonly original: string
  readonly replica: string
  /** Where the viewer may add what is missing. */
  readonly mayEdit: { readonly original: boolean; readonly replica: boolean }
}

/** Features that both or either side speaks of, in the order of the groups. */
export function listRows(
  features: readonly Feature[],
  sides: { original: EvidenceOf; replica: EvidenceOf },
  paths: SubjectPaths,
): { group: string; rows: RowView[] }[] {
  const keys = [...new Set([...sides.original.keys(), ...sides.replica.keys()])]
  return Object.entries(FEATURE_GROUPS)
    .map(([group, label]) => ({
      group: label,
      rows: features
        .filter((feature) => feature.group === group)
        .flatMap((feature) => keys.filter((key) => keyFeature(key) === feature.key).map((key) => ({ feature, key })))
        .map(({ feature, key }) => toRow(feature, sides.original.get(key), sides.replica.get(key), paths)),
    }))
    .filter(({ rows }) => rows.length > 0)
}

const keyFeature = (key: string) => (JSON.parse(key) as [string, string])[0]

function toRow(
  feature: Feature,
  original: Evidence | undefined,
  replica: Evidence | undefined,
  paths: SubjectPaths,
): RowView {
  const part = original?.part || replica?.part || ''
  return {
    key: part === '' ? feature.key : `${feature.key}-${part.replace(/\W+/g, '-')}`,
    label: part === '' ? feature.label : `${feature.label}, ${part}`,
    original: toSide(original, paths.original, paths.mayEdit.original ? feature : undefined),
    replica: toSide(replica, paths.replica, paths.mayEdit.replica ? feature : undefined),
    result: compareEvidence(original, replica),
    noResult: sayNoResult(original, replica),
  }
}

function sayNoResult(original: Evidence | undefined, replica: Evidence | undefined): string {
  if (!original || !replica) return `nothing to compare: ${original ? 'the piece' : 'the original'} says nothing`
  if (!original.quantity && !replica.quantity) {
    const hasBlank = original.claim?.kind === 'blank' || replica.claim?.kind === 'blank'
    return hasBlank ? 'nothing to compare: a side is blank' : 'words: compare them by reading'
  }
  if (!original.quantity || !replica.quantity)
    return `no ratio: ${original.quantity ? 'the piece' : 'the original'} has no number`
  return original.feature.comparesAsRatio ? '' : 'shown side by side; a ratio would say nothing'
}

/** The comparison of two pieces of evidence as words and rounded figures; undefined when there is no ratio to speak of. */
export function compareEvidence(original: Evidence | undefined, replica: Evidence | undefined): ResultView | undefined {
  const found = toComparison(original, replica)
  return found && toResult(found)
}

export function toComparison(original: Evidence | undefined, replica: Evidence | undefined): Comparison | undefined {
  if (!original?.quantity || !replica?.quantity || !original.feature.comparesAsRatio) return undefined
  return compareQuantities(original.quantity, replica.quantity)
}

function toResult({ ratio, uRatio, interval, k, df, verdict, needs, notes }: Comparison): ResultView {
  const isExact = uRatio === 0
  const stated = toStatedValue({ value: ratio, u: uRatio })
  return {
    verdict,
    words: isExact ? (ratio === 1 ? 'the same' : VERDICT_WORDS[verdict]) : VERDICT_WORDS[verdict],
    ratio: isExact || uRatio === null ? toDecimals(ratio, 2) : stated.value,
    interval: isExact
      ? 'both exact'
      : interval
        ? `95 %: ${interval.map((end) => toDecimals(end, 2)).join(' to ')}`
        : 'no interval',
    method:
      k === null || uRatio === null || isExact
        ? ''
        : `u = ${stated.plusMinus}, k = ${toDecimals(k, 2)}, ${df === null ? 'infinite' : toDecimals(df, 1)} degrees of freedom`,
    remarks: [...(needs ? [needs.sentence] : []), ...notes],
  }
}

/** @param feature what to add where nothing is recorded; without it that leads nowhere */
export function toSide(evidence: Evidence | undefined, subjectPath: string, feature?: Feature): SideView {
  if (!evidence) {
    const path = feature && subjectPath ? `${subjectPath}/claims/new?feature=${encodeURIComponent(feature.key)}` : ''
    return { main: path ? 'record it' : 'nothing recorded', look: 'nothing', details: '', path, from: '' }
  }
  const { claim, workedOut, quantity, note } = evidence
  if (!claim) return { ...workedOutFigure(evidence), path: subjectPath, from: `worked out from ${workedOut}` }
  const { main, look, details } = figureOf(claim, evidence.feature)
  const context = [labelOf(STATES, claim.state), labelOf(BASES, claim.basis)].join(', ')
  return {
    main,
    look,
    details: [...details, ...(look === 'blank' ? [] : [context]), ...(quantity && note ? [note] : [])].join('; '),
    path: `${subjectPath}#claim-${claim.id}`,
    from: [sourceOf(claim), claim.locator].filter(Boolean).join(', '),
  }
}

const sourceOf = ({ source, isSourceHidden, claimedBy }: Claim) =>
  source ? sourceName(source) : isSourceHidden ? hiddenName('source') : claimedBy

const sourceName = ({ people, year, title }: { people: string; year: string; title: string }) =>
  people === '' ? title : [people, year].filter(Boolean).join(' ')

function workedOutFigure({ feature, quantity }: Evidence): Pick<SideView, 'main' | 'look' | 'details'> {
  if (!quantity || !('value' in quantity) || !isQuantity(feature.kind) || feature.baseUnit === null) {
    return { main: '', look: 'nothing', details: '' }
  }
  const { symbol } = UNITS[feature.baseUnit]
  const { value, u, n } = quantity
  const stated = toStatedValue({ value, u, unit: symbol })
  // Without an uncertainty a quotient has as many digits as the machine; three are what a ruler and a count are worth.
  const main =
    u === undefined
      ? [toDecimals(value, value < 10 ? 2 : 1), symbol].filter(Boolean).join(' ')
      : [stated.value, symbol].filter(Boolean).join(' ')
  const details = [
    n === undefined ? '' : `n = ${n}`,
    stated.plusMinus === null ? '' : `u = ${stated.plusMinus} ${symbol}`.trim(),
  ]
  return { main, look: 'number', details: details.filter(Boolean).join('; ') }
}
