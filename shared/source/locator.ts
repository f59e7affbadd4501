/**
 * What a place in a source is called, by its CSL label. `plate` and `catalogue` are terms of our own, which our locales
 * know: CSL 1.0.2 has neither.
 */
export const LOCATOR_LABELS = {
  page: ['p', 'pp', 'page', 'pages', 's'],
  figure: ['fig', 'figs', 'figure', 'figures', 'abb'],
  plate: ['pl', 'pls', 'plate', 'plates', 'taf', 'tafel'],
  catalogue: [
    'cat',
    'cat no',
    'cat nos',
    'cat. no',
    'cat. nos',
    'catalogue number',
    'catalogue numbers',
    'kat',
    'kat. nr',
  ],
  table: ['tab', 'tabs', 'table', 'tables'],
  chapter: ['ch', 'chap', 'chapter', 'chapters'],
  section: ['sec', 'sect', 'section', 'sections', '§'],
  column: ['col', 'cols', 'column', 'columns'],
  folio: ['f', 'ff', 'fol', 'fols', 'folio', 'folios'],
  note: ['n', 'nn', 'note', 'notes'],
  volume: ['vol', 'vols', 'volume', 'volumes'],
  paragraph: ['para', 'paras', 'paragraph', 'paragraphs'],
  line: ['l', 'll', 'line', 'lines'],
  appendix: ['app', 'appendix'],
} as const
export type LocatorLabel = keyof typeof LOCATOR_LABELS

/** A place in a source. Without a label it is printed as it stands. */
export interface Locator {
  readonly label: LocatorLabel | ''
  readonly text: string
}

const BY_WORD = new Map<string, LocatorLabel>(
  (Object.keys(LOCATOR_LABELS) as LocatorLabel[]).flatMap((label) =>
    LOCATOR_LABELS[label].map((word) => [word, label] as const),
  ),
)
const WORDS = [...BY_WORD.keys()].sort((left, right) => right.length - left.length)
const escaped = WORDS.map((word) => word.replace(/[.§]/g, (mark) => `\\${mark}`).replace(/ /g, '\\s+'))
const BEGINS = new RegExp(`^(${escaped.join('|')})(?:\\.\\s*|\\s+|(?=\\d))(?=\\S)`, 'i')
/** A number, a letter with one, a Roman one: `41`, `41–43`, `3a`, `XII`, `A 4`. */
const PLACE = /^(?:[a-z]?\s?\d+[a-z]?|[ivxlcdm]+)\b/i

/**
 * Reads where in a source something stands, as it is typed: `p. 41`, `figs 3 and 4`, `pl. XII`, `cat. no. 12`. A number
 * alone is a page. What names no kind of place, or no number behind it, stays as words.
 * @example readLocator('pl. XII') // { label: 'plate', text: 'XII' }; readLocator('inside cover') // { label: '', text: 'inside cover' }
 */
export function readLocator(typed: string): Locator {
  const text = typed.trim().replace(/\s+/g, ' ')
  if (/^\d+[a-z]?(?:\s*[-–]\s*\d+[a-z]?)?(?:\s*,\s*\d+(?:\s*[-–]\s*\d+)?)*$/i.test(text)) return { label: 'page', text }
  const begins = BEGINS.exec(text)
  const rest = begins ? text.slice(begins[0].length) : ''
  const label = begins && BY_WORD.get((begins[1] ?? '').toLowerCase().replace(/\s+/g, ' '))
  return label && PLACE.test(rest) ? { label, text: rest } : { label: '', text }
}
