import { citeKeys } from '../../shared/source/cite-key.ts'
import type { CslItem } from '../../shared/source/csl.ts'
import { toCslItem } from '../../shared/source/to-csl.ts'
import { askCitation } from '../cite-thread.ts'
import type { Source } from '../source/queries.ts'

/** What sources can be taken out as, and come in as. */
export const FORMATS = {
  bibtex: { label: 'BibTeX', file: 'sources.bib', type: 'application/x-bibtex' },
  ris: { label: 'RIS', file: 'sources.ris', type: 'application/x-research-info-systems' },
  csl: { label: 'CSL-JSON', file: 'sources.json', type: 'application/vnd.citationstyles.csl+json' },
} as const
export type Format = keyof typeof FORMATS
export const FORMAT_KEYS = Object.keys(FORMATS) as Format[]

/** Sources as CSL items under the keys of a file, own notes with them. */
export function toFileItems(sources: readonly Source[]): CslItem[] {
  const keys = citeKeys(sources)
  return sources.map((source, at) => {
    const key = keys[at] ?? ''
    const note = source.notes === '' ? {} : { note: source.notes }
    return { ...toCslItem(source, source.other, key), 'citation-key': key, ...note }
  })
}

export async function writeSources(sources: readonly Source[], format: Format): Promise<string> {
  const items = toFileItems(sources)
  if (format === 'csl') return `${JSON.stringify(items, null, 2)}\n`
  return askCitation({ kind: 'write', format, items })
}
