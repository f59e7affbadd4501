import type { CslItem } from './csl.ts'
import type { SourceKind } from './kind.ts'

/** A source as its form has it, every field a text; empty where nothing is known. */
export interface SourceWords {
  readonly title: string
  /** Authors, editors, or whom one asked, as `readNames` reads them. */
  readonly people: string
  /** Of the book that it stands in, or beside the authors. */
  readonly editors: string
  /** As `readYear` reads it. */
  readonly year: string
  readonly kind: SourceKind
  /** The journal or book that it stands in; the series of what stands by itself. */
  readonly container: string
  readonly volume: string
  /** Of the journal; of a book the number in its series, of a report its own. */
  readonly issue: string
  readonly pages: string
  readonly publisher: string
  readonly place: string
  readonly edition: string
  readonly doi: string
  readonly isbn: string
  readonly issn: string
  readonly url: string
  /** The day on which the address was looked at. */
  readonly accessedOn: string
  /** What it is called by in a file of sources. */
  readonly citeKey: string
  readonly notes: string
}

/** What a CSL item says beyond the words above: kept as it came, and given out again. */
export type OtherCsl = Partial<Omit<CslItem, 'id' | 'custom'>>
