import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import CSL from 'citeproc'
import type { CslItem } from '../../shared/source/csl.ts'
import type { Locator } from '../../shared/source/locator.ts'
import { STYLES, type StyleKey } from './style.ts'
import type { Printed, PrintJob } from './task.ts'

/** Kinds of places that CSL has no label for. */
const OWN_TERMS = [
  ['plate', 'plate', 'plates', 'pl.', 'pls'],
  ['catalogue', 'catalogue number', 'catalogue numbers', 'cat. no.', 'cat. nos'],
  // A place in words says itself what it is; without a label of its own it would be taken for a page.
  ['words', '', '', '', ''],
]
  .map(
    ([term, one, many, short, shorts]) =>
      `<term name="${term}"><single>${one}</single><multiple>${many}</multiple></term>` +
      `<term name="${term}" form="short"><single>${short}</single><multiple>${shorts}</multiple></term>`,
  )
  .join('')

/** The engine of CSL, one instance a style: making one takes a hundred times as long as a reference. */
export function createPrinter(folder: string) {
  const engines = new Map<StyleKey, InstanceType<typeof CSL.Engine>>()
  let items: ReadonlyMap<string, unknown> = new Map()
  const read = (file: string) => readFileSync(join(folder, file), 'utf8')

  function engineOf(style: StyleKey) {
    const known = engines.get(style)
    if (known) return known
    const { file, locale } = STYLES[style]
    const terms = read(`locales-${locale}.xml`).replace('</terms>', `${OWN_TERMS}</terms>`)
    const system = { retrieveLocale: () => terms, retrieveItem: (id: string) => items.get(id) }
    const engine = new CSL.Engine(system, read(`${file}.csl`), locale, true)
    engines.set(style, engine)
    return engine
  }

  /** The engine keeps what it was given; it forgets it only with an empty list. */
  function give(engine: ReturnType<typeof engineOf>, given: readonly CslItem[]): readonly string[] {
    items = new Map(given.map((item) => [item.id, forEngine(item)]))
    engine.updateItems([])
    return engine.updateItems(given.map(({ id }) => id))
  }

  const cite = (
    engine: ReturnType<typeof engineOf>,
    id: string,
    { label, text }: Locator | { label: ''; text: '' },
  ) => {
    const place = text === '' ? {} : { label: label || 'words', locator: withHyphens(plain(text)) }
    const citation = { citationItems: [{ id, ...place }], properties: { noteIndex: 1 } }
    return restore(engine.previewCitationCluster(citation, [], [], 'html'))
  }

  /** What one source cannot be printed for is not to keep the others from it; the engine is no good after that. */
  function attempt<T>(style: StyleKey, work: (engine: ReturnType<typeof engineOf>) => T): T | undefined {
    try {
      return work(engineOf(style))
    } catch {
      engines.delete(style)
      return undefined
    }
  }

  function printOne(style: StyleKey, { item, locators }: PrintJob): Printed {
    const printed = attempt(style, (engine) => {
      give(engine, [item])
      const made = engine.makeBibliography()
      return {
        entry: made ? restore(made[1].join('')) : '',
        citation: cite(engine, item.id, { label: '', text: '' }),
        located: locators.map((locator) => cite(engine, item.id, locator)),
      }
    })
    return printed ?? { entry: '', citation: '', located: [] }
  }

  return {
    /** Each by itself; empty where the engine could not. */
    print: (style: StyleKey, jobs: readonly PrintJob[]): Printed[] => jobs.map((job) => printOne(style, job)),
    /** Together, in the order of the style; each by itself, in the order given, where the engine could not. */
    list(style: StyleKey, given: readonly CslItem[]): { id: string; html: string }[] {
      if (given.length === 0) return []
      const together = attempt(style, (engine) => {
        const ids = give(engine, given)
        const made = engine.makeBibliography()
        return made && made[1].length === given.length
          ? made[1].map((html, at) => ({ id: ids[at] ?? '', html: restore(html) }))
          : undefined
      })
      return together ?? given.map((item) => ({ id: item.id, html: printOne(style, { item, locators: [] }).entry }))
    },
  }
}

// The engine takes some tags in texts for its own marks; a joiner behind the bracket hides them, and goes again at the end.
const HIDE = '\u2060'
const plain = (text: string) => text.replaceAll(HIDE, '').replaceAll('<', `<${HIDE}`)
const restore = (html: string) => html.replaceAll(HIDE, '')

/** A style knows the ends of a span, and sets its own dash, only where a hyphen stands. */
const withHyphens = (text: string) => text.replace(/(\w)\s?[–—]\s?(\w)/g, '$1-$2')

function forEngine(item: CslItem): CslItem {
  const safe = { ...(withoutMarks(item) as CslItem), id: item.id }
  return safe.page === undefined ? safe : { ...safe, page: withHyphens(safe.page) }
}

function withoutMarks(value: unknown): unknown {
  if (typeof value === 'string') return plain(value)
  if (Array.isArray(value)) return value.map(withoutMarks)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, withoutMarks(each)]))
}
