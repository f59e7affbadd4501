/**
 * The variables of a CSL item, as the published JSON Schema has them (csl-data.json of CSL 1.0.2, citationstyles.org). What
 * stands in none of these lists is no CSL and is never kept.
 */
export const CSL_TYPES = [
  ...['article', 'article-journal', 'article-magazine', 'article-newspaper', 'bill', 'book', 'broadcast', 'chapter'],
  ...['classic', 'collection', 'dataset', 'document', 'entry', 'entry-dictionary', 'entry-encyclopedia', 'event'],
  ...['figure', 'graphic', 'hearing', 'interview', 'legal_case', 'legislation', 'manuscript', 'map', 'motion_picture'],
  ...['musical_score', 'pamphlet', 'paper-conference', 'patent', 'performance', 'periodical', 'personal_communication'],
  ...['post', 'post-weblog', 'regulation', 'report', 'review', 'review-book', 'software', 'song', 'speech', 'standard'],
  ...['thesis', 'treaty', 'webpage'],
] as const

export const CSL_TEXTS = [
  ...['language', 'journalAbbreviation', 'shortTitle', 'abstract', 'annote', 'archive', 'archive_collection'],
  ...['archive_location', 'archive-place', 'authority', 'call-number', 'collection-title', 'container-title'],
  ...['container-title-short', 'dimensions', 'division', 'DOI', 'event', 'event-title', 'event-place', 'genre', 'ISBN'],
  ...['ISSN', 'jurisdiction', 'keyword', 'medium', 'note', 'original-publisher', 'original-publisher-place'],
  ...['original-title', 'part-title', 'PMCID', 'PMID', 'publisher', 'publisher-place', 'references', 'reviewed-genre'],
  ...['reviewed-title', 'scale', 'section', 'source', 'status', 'title', 'title-short', 'URL', 'version'],
  ...['volume-title', 'volume-title-short', 'year-suffix'],
  ...['chapter-number', 'collection-number', 'edition', 'issue', 'number', 'number-of-pages', 'number-of-volumes'],
  ...['page', 'page-first', 'part', 'printing', 'supplement', 'volume'],
] as const

export const CSL_NAMES = [
  ...['author', 'chair', 'collection-editor', 'compiler', 'composer', 'container-author', 'contributor', 'curator'],
  ...['director', 'editor', 'editorial-director', 'executive-producer', 'guest', 'host', 'illustrator', 'interviewer'],
  ...['narrator', 'organizer', 'original-author', 'performer', 'producer', 'recipient', 'reviewed-author'],
  ...['script-writer', 'series-creator', 'translator'],
] as const

export const CSL_DATES = ['accessed', 'available-date', 'event-date', 'issued', 'original-date', 'submitted'] as const

export type CslType = (typeof CSL_TYPES)[number]
export type CslText = (typeof CSL_TEXTS)[number]
export type CslNames = (typeof CSL_NAMES)[number]
export type CslDates = (typeof CSL_DATES)[number]

/** A person by family and given name, or an institution by its whole name. */
export interface CslName {
  readonly family?: string
  readonly given?: string
  readonly suffix?: string
  readonly literal?: string
}

/** One day, month or year, or the two ends of a stretch; or words. Years are historical: -450 is 450 BCE. */
export interface CslDate {
  readonly 'date-parts'?: readonly (readonly number[])[]
  readonly circa?: boolean
  readonly literal?: string
}

export type CslItem = { readonly id: string; readonly type: CslType; readonly 'citation-key'?: string } & {
  readonly [K in CslText]?: string
} & { readonly [K in CslNames]?: readonly CslName[] } & { readonly [K in CslDates]?: CslDate } & {
  /** What only this program knows of it. */
  readonly custom?: { readonly kind: string }
}

const TYPES: ReadonlySet<string> = new Set(CSL_TYPES)
const TEXTS: ReadonlySet<string> = new Set(CSL_TEXTS)
const NAMES: ReadonlySet<string> = new Set(CSL_NAMES)
const DATES: ReadonlySet<string> = new Set(CSL_DATES)

export const isCslType = (text: unknown): text is CslType => typeof text === 'string' && TYPES.has(text)
export const isCslText = (key: string): key is CslText => TEXTS.has(key)
export const isCslNames = (key: string): key is CslNames => NAMES.has(key)
export const isCslDate = (key: string): key is CslDates => DATES.has(key)
