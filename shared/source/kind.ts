import type { CslType } from './csl.ts'

/** What each kind of source is in CSL; a catalogue and a visit are told apart from others by this program alone. */
export const TYPE_OF_KIND = {
  article: 'article-journal',
  book: 'book',
  chapter: 'chapter',
  catalogue: 'book',
  report: 'report',
  thesis: 'thesis',
  photograph: 'graphic',
  website: 'webpage',
  letter: 'personal_communication',
  visit: 'document',
  other: 'document',
} as const satisfies Record<string, CslType>
export type SourceKind = keyof typeof TYPE_OF_KIND

const KIND_OF_TYPE: Readonly<Partial<Record<CslType, SourceKind>>> = {
  ...{
    article: 'article',
    'article-journal': 'article',
    'article-magazine': 'article',
    'article-newspaper': 'article',
  },
  ...{ review: 'article', 'review-book': 'article', periodical: 'article' },
  ...{ book: 'book', classic: 'book', collection: 'book', pamphlet: 'book' },
  ...{ chapter: 'chapter', entry: 'chapter', 'entry-dictionary': 'chapter', 'entry-encyclopedia': 'chapter' },
  ...{ 'paper-conference': 'chapter', report: 'report', thesis: 'thesis' },
  ...{ graphic: 'photograph', figure: 'photograph', map: 'photograph' },
  ...{ webpage: 'website', post: 'website', 'post-weblog': 'website' },
  ...{ personal_communication: 'letter', interview: 'letter' },
}

export const isSourceKind = (text: unknown): text is SourceKind =>
  typeof text === 'string' && Object.hasOwn(TYPE_OF_KIND, text)

/** @param told the kind that this program wrote beside the type; counts where it belongs to that type */
export function kindOf(type: CslType, told?: unknown): SourceKind {
  if (isSourceKind(told) && TYPE_OF_KIND[told] === type) return told
  return KIND_OF_TYPE[type] ?? 'other'
}

/** Stands by itself: what it is printed in is a series, and its number is the one in that series. */
export const isWhole = (type: CslType): boolean => ['book', 'classic', 'collection', 'pamphlet'].includes(type)
/** Has a number of its own, and a series. */
export const isNumbered = (type: CslType): boolean => ['report', 'thesis', 'standard', 'patent'].includes(type)
