import type { ObservedSlant } from '../../../shared/draft/infer/observed.ts'
import type { BandMarks } from '../../../shared/observed/band-map.ts'
import type { CountOffer } from '../../../shared/observed/period.ts'
import type { ReadColours } from '../../../shared/observed/read-colours.ts'

/** What the page asks of the worker; the picture is sent once. */
export type Ask =
  | { readonly what: 'picture'; readonly width: number; readonly height: number; readonly data: ArrayBuffer }
  | { readonly what: 'rhythm'; readonly marks: BandMarks }
  | { readonly what: 'read'; readonly marks: BandMarks; readonly k: number | undefined; readonly slants: boolean }

export interface RhythmAnswer {
  readonly across: readonly CountOffer[]
  readonly along: readonly CountOffer[]
}

export interface ReadAnswer {
  readonly read: ReadColours
  readonly slants: readonly (ObservedSlant | null)[] | undefined
}

export type Answer = { readonly id: number; readonly answer?: unknown; readonly failed?: string }
