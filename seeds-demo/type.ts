import type { Basis, Blank, State } from '../shared/measure/claim-word.ts'
import type { Unit } from '../shared/measure/unit.ts'
import type { Stage } from '../shared/work/stage.ts'
import type { CountSystem } from '../shared/yarn/count.ts'
import type { EnteredKind } from '../server/yarn/movement-form.ts'
import type { DraftKey } from './draft/draft.ts'

/** A day, as `2026-03-14`. */
export type Day = string
/** A number as it was typed, so that 13.0 stays 13.0. */
export type Decimal = string

export interface Source {
  readonly key: string
  readonly title: string
  readonly people: string
  readonly year: string
  readonly kind: 'article' | 'book' | 'chapter' | 'catalogue' | 'report' | 'photograph' | 'letter' | 'visit'
  readonly container?: string
  readonly pages?: string
  readonly url?: string
  /** Markdown. */
  readonly notes?: string
}

/** What a claim says: exactly one of these. */
type Content =
  | { readonly value: Decimal; readonly unit: Unit }
  | { readonly low: Decimal; readonly high: Decimal; readonly unit: Unit }
  /** Readings as they were typed, parted by semicolons: `27.5; 28.0` or `72 in 9; 71 in 9`. */
  | { readonly readings: string; readonly unit: Unit; readonly resolution?: Decimal }
  | { readonly text: string }
  | { readonly blank: Blank }

export type Claim = Content & {
  /** Only where another claim corrects this one. */
  readonly key?: string
  readonly feature: string
  /** Which yarn or part; left out for the whole. */
  readonly part?: string
  readonly n?: number
  readonly u?: Decimal
  readonly state: State
  readonly basis: Basis
  readonly source?: string
  readonly locator?: string
  readonly on: Day
  readonly reason?: string
  /** Key of the claim that this one corrects. */
  readonly corrects?: string
  readonly working?: true
  readonly workingReason?: string
}

export interface Original {
  readonly key: string
  /** The name first, then other names. */
  readonly names: readonly [string, ...string[]]
  readonly holder: string
  readonly inventoryNumber: string
  readonly findPlace: string
  readonly findContext: string
  /** ISO 8601-2. */
  readonly dateEdtf: string
  readonly technique: string
  readonly preservation: string
  /** Markdown. */
  readonly notes: string
  readonly claims: readonly Claim[]
}

export interface PieceYarn {
  readonly role: string
  readonly yarn: string
  /** Of one single, in `system`. */
  readonly count: Decimal
  readonly system: CountSystem
  readonly ply: number
  /** The colour of the draft that it weaves. */
  readonly colourKey?: string
  /** Key of the lot that it came from. */
  readonly lot?: string
}

/** One entry of a lot's ledger. */
export interface LotMovement {
  readonly kind: EnteredKind
  readonly day: Day
  readonly grams: Decimal
  /** Key of the piece. */
  readonly piece?: string
  /** Key of the lot that it was dyed into, and its weight then. */
  readonly into?: string
  readonly gramsAfter?: Decimal
  readonly note: string
}

export interface Lot {
  readonly key: string
  readonly colourName: string
  readonly colourHex: string
  readonly colourLab?: string
  readonly dye?: string
  readonly mordant?: string
  readonly recipe?: string
  readonly dyedBy?: string
  readonly dyedOn?: Day
  readonly lotNumber?: string
  /** Of 100 g, in euros. */
  readonly price?: Decimal
  readonly movements: readonly LotMovement[]
}

export interface Yarn {
  readonly name: string
  readonly blend: string
  /** As written on it. */
  readonly count: string
  readonly build: string
  readonly wrapsPerCm?: Decimal
  readonly supplier: string
  readonly notes: string
  readonly lots: readonly Lot[]
}

export interface Sitting {
  /** The local day on which it started. */
  readonly date: Day
  /** Times on the clock of `zone`; an end before the start is on the next day. */
  readonly start: string
  readonly end: string
  readonly breakMinutes: number
  readonly stage: Stage
  readonly picks?: number
  readonly repeats?: number
  readonly lengthMm?: number
  readonly note: string
  readonly zone: string
}

export interface Piece {
  readonly key: string
  readonly name: string
  readonly maker: string
  readonly original?: string
  readonly draft?: DraftKey
  /** Revision of the draft, from 1; left out for the newest. */
  readonly revision?: number
  readonly forWhom?: string
  readonly plannedOn?: Day
  readonly onLoomOn?: Day
  readonly wovenOn?: Day
  readonly finishedOn?: Day
  readonly setAsideOn?: Day
  readonly setAsideReason?: string
  /** Markdown. */
  readonly notes: string
  /** Markdown. */
  readonly wentWrong: string
  readonly yarns: readonly PieceYarn[]
  readonly measurements: readonly Claim[]
  readonly sittings: readonly Sitting[]
}
