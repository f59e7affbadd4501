// The library comes without types. Only its parser is used: its own classes have wrong ends for sets, take five digits for
// a moment of the Unix clock, and format BCE years without their era.
declare module 'edtf' {
  /** One date. `values`: year, month from 0, day, then hours, minutes, seconds. The numbers below are bit masks over YYYYMMDD. */
  export interface DateNode {
    readonly type?: 'Date'
    readonly values: readonly number[]
    readonly unspecified?: number
    readonly approximate?: boolean | number
    readonly uncertain?: boolean | number
  }
  export interface SeasonNode {
    readonly type: 'Season'
    readonly values: readonly [year: number, season: number]
  }
  export interface YearNode {
    readonly type: 'Year'
    readonly values: readonly [year: number]
    readonly significant?: number
  }
  /** A decade (`199`) or century (`19`) by its leading digits. */
  export interface ShortNode {
    readonly type: 'Decade' | 'Century'
  }
  export interface IntervalNode {
    readonly type: 'Interval'
    /** null is an end that is not known, Infinity one that is open. */
    readonly values: readonly [DateNode | number | null, DateNode | number | null]
  }
  /** `Set`: one of them; `List`: all of them. A pair is a run from the first to the second. */
  export interface ChoiceNode {
    readonly type: 'Set' | 'List'
    readonly values: readonly (DateNode | readonly [DateNode, DateNode])[]
    readonly earlier?: boolean
    readonly later?: boolean
  }
  export type EdtfNode = DateNode | SeasonNode | YearNode | ShortNode | IntervalNode | ChoiceNode

  /** Throws an Error when the text is no EDTF of level 0 to 2. */
  export function parse(text: string): EdtfNode
}
