import type { Draft } from '../draft/draft.ts'
import type { Density, FibreDensity } from '../yarn/density.ts'

/** A yarn that a plan may choose: a lot on the shelf, or a kind of yarn. */
export interface YarnChoice {
  /** `lot-3` or `yarn-2`, as it stands in the form. */
  readonly value: string
  readonly label: string
  /** Linear density of the whole yarn; null where nobody knows. */
  readonly tex: number | null
  /** Of its fibre; null where the blend is not known, or a fibre of it is in no table. */
  readonly density: Density | null
  /** Diameter as measured on the yarn, in mm: it goes before what tex and density give. Null where nobody measured it. */
  readonly measuredMm: number | null
  /** Mass that is on the shelf and not reserved for other pieces, in grams; null for a kind of yarn. */
  readonly freeG: number | null
}

/** What a finished piece of the maker's own taught. */
export interface Taught {
  readonly pieceId: number
  readonly piece: string
  readonly value: number
}

/** What settling a finished piece of the maker's own taught, by the grams that it used. */
export interface SettledTaught {
  readonly pieceId: number
  readonly piece: string
  /** Of the woven length; null where the grams do not say. */
  readonly percent: number | null
  /** Over take-up by geometry; null where one of the two is not known, or it is not above zero. */
  readonly ratio: number | null
  /** Weft used over weft planned. */
  readonly weftRatio: number | null
  readonly rests: string
}

/** A figure that the notebook has already, and where from: `measured on this piece, n = 9`. */
export interface KnownFigure {
  readonly value: number
  readonly from: string
}

/** All that a plan is worked out from, besides what is typed. It travels to the browser as JSON. */
export interface PlanFacts {
  readonly draft: Draft
  /** Reversals that stand in the draft already, because it was written out by a plan; empty otherwise. */
  readonly writtenReversals: readonly number[]
  readonly yarns: readonly YarnChoice[]
  /** As the maker of the piece goes by them. */
  readonly densities: readonly FibreDensity[]
  /** Take-up as measured over take-up by geometry. */
  readonly takeUpRatios: readonly Taught[]
  /** By the grams that were used, beside what was measured. */
  readonly settled: readonly SettledTaught[]
  /** Width of a cord over the diameter of its thread. */
  readonly cordRatios: readonly Taught[]
  /** Turns per metre in the bare warp at the pick at which the maker stopped. */
  readonly stops: readonly Taught[]
  /** Of this piece. */
  readonly picksPerCm: KnownFigure | null
  readonly widthMm: KnownFigure | null
  /** Of the original; all null where there is none. */
  readonly original: {
    readonly widthMm: KnownFigure | null
    readonly tabletsPerCm: KnownFigure | null
    readonly endsPerCm: KnownFigure | null
    readonly threadMm: KnownFigure | null
  }
}
