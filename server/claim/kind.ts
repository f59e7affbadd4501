import type { Blank } from '../../shared/measure/claim-word.ts'
import type { Unit } from '../../shared/measure/unit.ts'

/** The kinds of claim, in the order in which the form offers them for a publication. */
export const CLAIM_KINDS = {
  value: 'One value',
  range: 'A range, or a least or greatest value',
  readings: 'Readings as they came',
  text: 'In words',
  blank: 'No value, and why not',
} as const
export type ClaimKind = keyof typeof CLAIM_KINDS
export const CLAIM_KIND_KEYS = Object.keys(CLAIM_KINDS) as ClaimKind[]

/** The value of a claim: only the fields of its kind are there. */
export interface ClaimValue {
  readonly kind: ClaimKind
  readonly unit: Unit | ''
  readonly value?: string | undefined
  readonly low?: string | undefined
  readonly high?: string | undefined
  readonly words?: string | undefined
  readonly readings?: string | undefined
  readonly blank?: Blank | undefined
  readonly n?: number | undefined
  readonly u?: string | undefined
  readonly resolution?: string | undefined
}
