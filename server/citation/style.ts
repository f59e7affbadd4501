/** How sources may be cited. `file` and `locale` lie in `server/citation/styles`. */
export const STYLES = {
  antiquity: { label: 'Author and year, as in Antiquity', sort: 'author-date', file: 'antiquity', locale: 'en-GB' },
  apa: { label: 'Author and year, as the APA has it', sort: 'author-date', file: 'apa', locale: 'en-US' },
  chicago: {
    ...{ label: 'Notes, by the Chicago Manual', sort: 'notes', file: 'chicago-fullnote-bibliography', locale: 'en-US' },
  },
  vancouver: { label: 'Numbers, as in medicine (Vancouver)', sort: 'numbers', file: 'vancouver', locale: 'en-US' },
} as const
export type StyleKey = keyof typeof STYLES
export const STYLE_KEYS = Object.keys(STYLES) as StyleKey[]
export const isStyleKey = (text: unknown): text is StyleKey =>
  typeof text === 'string' && (STYLE_KEYS as string[]).includes(text)

/** What the notebook begins with: the style of the trade's own journals. */
export const FIRST_STYLE: StyleKey = 'antiquity'

/**
 * What a printed reference depends on beside its source: the engine, the styles and terms, and how a source becomes an
 * item. Another value here has every reference made anew. A test holds it to the package and to the files.
 */
export const ENGINE = 'citeproc 2.4.63, styles bfc9e6f0, items 1'
