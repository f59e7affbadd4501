import type { CslItem } from '../../shared/source/csl.ts'
import type { Locator } from '../../shared/source/locator.ts'
import type { StyleKey } from './style.ts'

/** What the thread of the citation library is asked. */
export type CiteTask =
  | { readonly kind: 'read'; readonly format: 'bibtex' | 'ris'; readonly text: string }
  | { readonly kind: 'write'; readonly format: 'bibtex' | 'ris'; readonly items: readonly CslItem[] }
  | { readonly kind: 'print'; readonly style: StyleKey; readonly jobs: readonly PrintJob[] }
  | { readonly kind: 'list'; readonly style: StyleKey; readonly items: readonly CslItem[] }

/** One source by itself, and its places that are cited. */
export interface PrintJob {
  readonly item: CslItem
  readonly locators: readonly Locator[]
}

/** HTML of the engine, not yet sanitised. */
export interface Printed {
  readonly entry: string
  readonly citation: string
  readonly located: readonly string[]
}

/** One entry of a file: what the library made of it, or why nothing. */
export interface ReadEntry {
  /** "line 12, oss1987" */
  readonly place: string
  readonly key: string
  /** An item of CSL-JSON, not looked at yet. */
  readonly given?: unknown
  readonly problem?: string
  /** Fields of the file that the library knows nothing of. */
  readonly unknown: readonly string[]
}

export interface CiteAnswers {
  readonly read: readonly ReadEntry[]
  readonly write: string
  readonly print: readonly Printed[]
  /** In the order of the style, each with the id of its item. */
  readonly list: readonly { readonly id: string; readonly html: string }[]
}
