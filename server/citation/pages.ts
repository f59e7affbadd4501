import { formFields, type FieldView } from '../field.ts'
import type { Html, PageHead } from '../pages.ts'
import { viewerIsKeeper } from '../rights/allowed.ts'
import { FORMAT_KEYS, FORMATS } from '../source-export/write.ts'
import { sourceQuery } from '../source-export/selection.ts'
import { STYLE_KEYS, STYLES, type StyleKey } from './style.ts'

declare module '../pages.ts' {
  interface Pages {
    'citation/bibliography': BibliographyPage
  }
}

interface BibliographyPage extends PageHead {
  /** The original or piece that it is of; empty for a selection. */
  readonly ofName: string
  readonly ofPath: string
  readonly count: string
  readonly entries: readonly { readonly path: string; readonly html: Html | string; readonly title: string }[]
  readonly sort: string
  readonly fields: Record<'style', FieldView>
  readonly styleLabel: string
  /** What the address named, so that another style is asked for the same. */
  readonly hidden: readonly { readonly name: string; readonly value: string }[]
  readonly files: readonly { readonly label: string; readonly path: string }[]
  readonly style: string
  readonly isKeeper: boolean
}

export interface BibliographyFacts {
  readonly of: { readonly name: string; readonly path: string } | undefined
  readonly sources: readonly { readonly id: number; readonly title: string }[]
  readonly entries: BibliographyPage['entries']
  readonly style: StyleKey
  readonly hidden: BibliographyPage['hidden']
}

export const STYLE_FIELD = {
  style: { label: 'Style', options: STYLE_KEYS.map((key) => [key, STYLES[key].label] as const) },
}

export function bibliographyPage(
  { of, sources, entries, style, hidden }: BibliographyFacts,
  notice: string,
): BibliographyPage {
  const query = sourceQuery(sources)
  return {
    title: of ? `Bibliography: ${of.name}` : 'Bibliography',
    section: 'sources',
    notice,
    ofName: of?.name ?? '',
    ofPath: of?.path ?? '',
    count: sources.length === 1 ? '1 source' : `${sources.length} sources`,
    entries,
    sort: STYLES[style].sort,
    fields: formFields(STYLE_FIELD, { style }),
    styleLabel: STYLES[style].label,
    hidden,
    files:
      sources.length === 0
        ? []
        : FORMAT_KEYS.map((format) => ({
            label: FORMATS[format].label,
            path: `/sources/export?format=${format}&${query}`,
          })),
    style,
    isKeeper: viewerIsKeeper(),
  }
}
