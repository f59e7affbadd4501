import type { Feature } from '../../shared/measure/feature.ts'
import { quotientOf, type KnownValue } from '../../shared/measure/derived.ts'
import { knownQuantity, type Quantity } from '../../shared/measure/quantity.ts'
import { endsOf } from '../../shared/draft/ends.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import type { Claim } from '../claim/queries.ts'
import { toQuantity } from '../claim/quantity.ts'
import type { RepeatLength } from '../sitting/pace.ts'

/** What one side says of a feature: a quantity to compare, or why there is none; and where that comes from. */
export interface Evidence {
  readonly feature: Feature
  readonly part: string
  /** In the feature's base unit; undefined for words and blanks. */
  readonly quantity: Quantity | undefined
  /** Why there is no quantity, or how it was read: empty when there is nothing to say. */
  readonly note: string
  /** The claim that says it; undefined when it was worked out. */
  readonly claim: Claim | undefined
  /** From what it was worked out, in words; empty for a claim. */
  readonly workedOut: string
}

/** Evidence by feature and part. */
export type EvidenceOf = ReadonlyMap<string, Evidence>

export const evidenceKey = (feature: string, part = '') => JSON.stringify([feature, part])

/** What the working claims of one side say, and what follows from them and from the draft where nobody claims it. */
export function gatherEvidence(
  claims: readonly Claim[],
  features: ReadonlyMap<string, Feature>,
  draft: Draft | undefined,
): EvidenceOf {
  const evidence = new Map<string, Evidence>()
  for (const claim of claims) {
    const feature = features.get(claim.feature)
    if (feature) evidence.set(evidenceKey(claim.feature, claim.part), fromClaim(claim, feature))
  }
  const add = (key: string, quantity: Quantity | undefined, workedOut: string) => {
    const feature = features.get(key)
    const known = evidence.get(evidenceKey(key))
    if (!quantity || !feature || known?.quantity) return
    evidence.set(evidenceKey(key), { feature, part: '', quantity, note: '', claim: undefined, workedOut })
  }
  const known = (key: string) => knownOf(evidence.get(evidenceKey(key)))
  if (draft) {
    add('tablets', exactly(draft.tablets.length), 'the draft')
    add('repeatPicks', exactly(draft.picks.length), 'the draft')
    add('endsPerCm', derive(exact(endsOf(draft)), known('width'), 10), 'the ends of the draft and the width')
  }
  add('tabletsPerCm', derive(known('tablets'), known('width'), 10), 'tablets and width')
  add('picksPerCm', derive(known('repeatPicks'), known('repeatLength'), 10), 'picks and length of a repeat')
  add('repeatLength', derive(known('repeatPicks'), known('picksPerCm'), 10), 'picks of a repeat and picks per cm')
  return evidence
}

function fromClaim(claim: Claim, feature: Feature): Evidence {
  const { quantity, note } = toQuantity(claim, feature)
  return { feature, part: claim.part, quantity, note, claim, workedOut: '' }
}

const exact = (value: number): KnownValue => ({ value, u: 0, n: null })
const exactly = (value: number): Quantity => ({ value, u: 0 })

/** Mean, u and n of a piece of evidence; undefined when it has no quantity. */
export function knownOf(evidence: Evidence | undefined): KnownValue | undefined {
  if (!evidence?.quantity) return undefined
  const { mean, u, n } = knownQuantity(evidence.feature.label, evidence.quantity)
  return { value: mean, u, n }
}

/** How long a repeat is, measured or worked out, in mm; undefined when nobody can know. */
export function repeatLengthOf(evidence: EvidenceOf): RepeatLength | undefined {
  const found = evidence.get(evidenceKey('repeatLength'))
  const known = knownOf(found)
  if (!found || !known) return undefined
  return { mm: known.value, from: found.claim ? 'measured on the piece' : `worked out from ${found.workedOut}` }
}

function derive(
  numerator: KnownValue | undefined,
  denominator: KnownValue | undefined,
  factor: number,
): Quantity | undefined {
  if (!numerator || !denominator) return undefined
  const { value, u, n } = quotientOf(numerator, denominator, factor)
  return { value, u: u ?? undefined, n: n ?? undefined }
}
