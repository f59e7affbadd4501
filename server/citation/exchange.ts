import { Cite, plugins } from '@citation-js/core'
import '@citation-js/plugin-bibtex'
import '@citation-js/plugin-ris'
import { splitBibtex } from '../../shared/source/bibtex-entries.ts'
import type { CslItem } from '../../shared/source/csl.ts'
import { splitRis } from '../../shared/source/ris-records.ts'
import type { ReadEntry } from './task.ts'

// An address in a file is text: nothing is ever fetched.
for (const format of ['@else/url', '@else/jquery', '@else/html', '@else/json']) plugins.input.remove(format)
// Keys stay as they are; letters beyond ASCII too, which every BibTeX of today reads.
Object.assign(plugins.config.get('@bibtex').format, { useIdAsLabel: true, checkLabel: false, asciiOnly: false })

/** More than these at once are a library, not a notebook's sources. */
export const MOST_ENTRIES = 2000

/** Fields of BibTeX and BibLaTeX that the library maps to CSL. */
const BIBTEX_FIELDS = new Set([
  ...['abstract', 'addendum', 'address', 'annotation', 'annote', 'author', 'bookauthor', 'booktitle', 'booksubtitle'],
  ...[
    'booktitleaddon',
    'chapter',
    'crossref',
    'date',
    'day',
    'doi',
    'edition',
    'editor',
    'eid',
    'eprint',
    'eprinttype',
  ],
  ...['archiveprefix', 'eventdate', 'eventtitle', 'eventtitleaddon', 'howpublished', 'institution', 'isbn', 'issn'],
  ...['issue', 'issuetitle', 'issuesubtitle', 'journal', 'journaltitle', 'journalsubtitle', 'keywords', 'langid'],
  ...['language', 'library', 'location', 'maintitle', 'mainsubtitle', 'month', 'note', 'number', 'numpages'],
  ...['organization', 'origdate', 'origlocation', 'origpublisher', 'origtitle', 'pages', 'pagetotal', 'part', 'pmcid'],
  ...['pmid', 'publisher', 'pubstate', 'school', 'series', 'shortjournal', 'shortseries', 'shorttitle', 'subtitle'],
  ...['title', 'titleaddon', 'translator', 'type', 'entrysubtype', 'url', 'urldate', 'venue', 'version', 'volume'],
  ...['volumes', 'year'],
])
const RIS_TAGS = new Set([
  ...['TY', 'A1', 'A2', 'A3', 'A4', 'AB', 'AU', 'BT', 'C1', 'CN', 'CP', 'CY', 'DA', 'DB', 'DO', 'DP', 'ED', 'EP', 'ET'],
  ...['ID', 'IS', 'J1', 'J2', 'JA', 'JF', 'JO', 'KW', 'LA', 'M1', 'M2', 'M3', 'N1', 'N2', 'NV', 'OP', 'PB', 'PP', 'PY'],
  ...['RN', 'SE', 'SN', 'SP', 'ST', 'SV', 'T1', 'T2', 'T3', 'TI', 'UR', 'VL', 'VO', 'Y1', 'Y2'],
])

export function readBibtex(text: string): ReadEntry[] {
  const { strings, entries, problems } = splitBibtex(text)
  return [
    ...entries.slice(0, MOST_ENTRIES).map((entry) => {
      const parsed = parseOne(`${strings.join('\n')}\n${entry.text}\n`, '@biblatex/text', entry.key)
      const { hasOthers, ...read } = withoutOthers(parsed)
      const unknown = entry.fields.filter((name) => !BIBTEX_FIELDS.has(name))
      return {
        ...{ place: `line ${entry.line}${entry.key && `, ${entry.key}`}`, key: entry.key, ...read },
        unknown: [...unknown, ...(hasOthers ? ['“and others” among the authors'] : [])],
      }
    }),
    ...problems.map(({ line, message }) => ({ place: `line ${line}`, key: '', problem: message, unknown: [] })),
    ...tooMany(entries.length),
  ]
}

export function readRis(text: string): ReadEntry[] {
  const { records, problems } = splitRis(text)
  return [
    ...records.slice(0, MOST_ENTRIES).map(({ line, tags }) => {
      // The library drops an editor in ED, and a DOI beside older tags; what it knows otherwise stays.
      const editors = tags.filter(([tag]) => tag === 'ED').map(([, name]) => name)
      const doi = tags.find(([tag]) => tag === 'DO')?.[1]
      const kept = tags.filter(([tag]) => tag !== 'ED')
      const key = tags.find(([tag]) => tag === 'ID')?.[1] ?? ''
      const parsed = parseOne(
        `${kept.map(([tag, value]) => `${tag}  - ${value}`).join('\n')}\nER  - \n`,
        '@ris/file',
        key,
      )
      const unknown = kept.map(([tag]) => tag).filter((tag) => !RIS_TAGS.has(tag))
      return { place: `line ${line}${key && `, ${key}`}`, key, ...withMissed(parsed, editors, doi), unknown }
    }),
    ...problems.map(({ line, message }) => ({ place: `line ${line}`, key: '', problem: message, unknown: [] })),
    ...tooMany(records.length),
  ]
}

const tooMany = (count: number): ReadEntry[] =>
  count <= MOST_ENTRIES
    ? []
    : [
        {
          place: 'the rest',
          key: '',
          problem: `${count} sources at once; at most ${MOST_ENTRIES} are read.`,
          unknown: [],
        },
      ]

type Parsed = { readonly given: Readonly<Record<string, unknown>> } | { readonly problem: string }

function parseOne(text: string, forceType: string, key: string): Parsed {
  try {
    const [given] = new Cite(text, { forceType, generateGraph: false }).data
    if (!given) return { problem: 'Nothing was found in it.' }
    // The library makes up an id where there is none.
    const rest = Object.fromEntries(Object.entries(given).filter(([name]) => name !== 'id'))
    return { given: { ...rest, ...(key === '' ? {} : { id: key }), ...genreOf(given) } }
  } catch (error) {
    const said = error instanceof Error ? (error.message.split('\n')[0] ?? '') : ''
    return { problem: `This could not be read: ${said.slice(0, 200)}` }
  }
}

const GENRES: Readonly<Record<string, string>> = {
  ...{
    phdthesis: 'PhD thesis',
    mathesis: "Master's thesis",
    mastersthesis: "Master's thesis",
    bathesis: 'Bachelor thesis',
  },
  ...{ techreport: 'Technical report', candthesis: 'Candidate thesis', resreport: 'Research report' },
}
function genreOf({ genre }: Readonly<Record<string, unknown>>) {
  return typeof genre === 'string' && Object.hasOwn(GENRES, genre) ? { genre: GENRES[genre] } : {}
}

/** `and others` is nobody's name. */
function withoutOthers(parsed: Parsed): Parsed & { readonly hasOthers: boolean } {
  if ('problem' in parsed || !Array.isArray(parsed.given.author)) return { ...parsed, hasOthers: false }
  const authors = parsed.given.author as { readonly family?: string; readonly given?: string }[]
  const named = authors.filter(({ family, given }) => family !== 'others' || given !== undefined)
  return { given: { ...parsed.given, author: named }, hasOthers: named.length < authors.length }
}

function withMissed(parsed: Parsed, editors: readonly string[], doi: string | undefined): Parsed {
  if ('problem' in parsed) return parsed
  const { given } = parsed
  const names = editors.map((name) => {
    const [family = '', own = ''] = name.split(',').map((part) => part.trim())
    return own === '' ? { literal: family } : { family, given: own }
  })
  const known = Array.isArray(given.editor) ? (given.editor as unknown[]) : []
  return {
    given: {
      ...given,
      ...(names.length > 0 ? { editor: [...known, ...names] } : {}),
      ...(doi !== undefined && given.DOI === undefined ? { DOI: doi } : {}),
    },
  }
}

export function writeBibtex(items: readonly CslItem[]): string {
  if (items.length === 0) return ''
  const text = new Cite(items.map(forBibtex), { generateGraph: false }).format('bibtex')
  return text.replaceAll(HIDE, '')
}

export function writeRis(items: readonly CslItem[]): string {
  const records = items.map((item) => {
    const text = new Cite([onOneLine(forLibrary(item))], { generateGraph: false }).format('ris').trimEnd()
    // Both pages in one tag, and no DOI of most types: mended here.
    const pages = text.replace(/^SP {2}- (\S+?)\s*[-–]\s*(\S+)$/m, 'SP  - $1\nEP  - $2')
    const hasDoi = item.DOI === undefined || /^DO {2}- /m.test(pages)
    return hasDoi ? pages : pages.replace(/\nER {2}-\s*$/, `\nDO  - ${item.DOI}\nER  - `)
  })
  return records.map((record) => `${record}\n`).join('\n')
}

/** A line of a text that begins like a tag would be one. */
const onOneLine = (item: CslItem): unknown =>
  Object.fromEntries(
    Object.entries(item).map(([key, value]) => [key, typeof value === 'string' ? value.replace(/\s+/g, ' ') : value]),
  )

/** The library knows nothing of what is ours. */
function forLibrary({ custom: _ours, ...item }: CslItem): CslItem {
  const key = item['citation-key'] ?? item.id
  return { ...item, id: key, 'citation-key': key }
}

// It takes tags in texts for marks of its own; a joiner behind the bracket hides them, and goes again at the end.
const HIDE = '\u2060'
const TEX: Readonly<Record<string, string>> = {
  ...{ '\\': '\\textbackslash{}', '{': '\\textbraceleft{}', '}': '\\textbraceright{}', '<': `<${HIDE}` },
  ...{ '~': '\\textasciitilde{}', '^': '\\textasciicircum{}', '&': '\\&', '%': '\\%', $: '\\$', '#': '\\#', _: '\\_' },
}
/** What TeX takes for a command of its own, escaped; the library does that only where it drops letters beyond ASCII too. */
const escapeTex = (text: string) => text.replace(/[\\{}<~^&%$#_]/g, (mark) => TEX[mark] ?? mark)
const VERBATIM = new Set(['DOI', 'URL'])
const KEYS = new Set(['id', 'type', 'citation-key'])

function forBibtex(item: CslItem): unknown {
  const escaped = Object.entries(forLibrary(item)).map(([key, value]) => {
    if (KEYS.has(key)) return [key, value]
    return [key, VERBATIM.has(key) ? String(value).replace(/[{}]/g, encodeURIComponent) : escapeAll(value)]
  })
  return Object.fromEntries(escaped)
}

function escapeAll(value: unknown): unknown {
  if (typeof value === 'string') return escapeTex(value)
  if (Array.isArray(value)) return value.map(escapeAll)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, escapeAll(each)]))
}
