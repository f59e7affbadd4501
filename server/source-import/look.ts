import { fromCslItem } from '../../shared/source/from-csl.ts'
import { readCslItem } from '../../shared/source/read-csl.ts'
import { keysOf, type SameBy } from '../../shared/source/same.ts'
import type { OtherCsl } from '../../shared/source/words.ts'
import { askCitation } from '../cite-thread.ts'
import type { ReadEntry } from '../citation/task.ts'
import type { Format } from '../source-export/write.ts'
import { readSourceForm, type SourceForm } from '../source/form.ts'
import type { Source } from '../source/queries.ts'

/** More than these at once are a library, not a notebook's sources. */
const MOST_ENTRIES = 2000

/** One entry of the file, looked at: a source, or why it is none. */
export type Looked = {
  /** From 1, as the list numbers them. */
  readonly number: number
  readonly place: string
  readonly lost: readonly string[]
} & (
  | { readonly form: SourceForm; readonly other: OtherCsl; readonly same: Same | undefined }
  | { readonly problem: string }
)

/** What an entry seems to be already: a source that is here, or an earlier entry of the file. */
export type Same = { readonly by: SameBy; readonly source: Source } | { readonly by: SameBy; readonly number: number }

/**
 * Looks a file over; nothing is kept.
 * @param here the sources that the viewer may see, to know again what is here already
 */
export async function lookAtFile(text: string, format: Format, here: readonly Source[]): Promise<Looked[]> {
  const entries = format === 'csl' ? readCslJson(text) : await askCitation({ kind: 'read', format, text })
  const known = new Map<string, Source>()
  for (const source of here) for (const { key } of keysOf(source)) if (!known.has(key)) known.set(key, source)
  const before = new Map<string, number>()
  return entries.map((entry, at) => {
    const number = at + 1
    const looked = { number, place: entry.place, lost: entry.unknown.map((name) => `${name}: not understood`) }
    if (entry.problem !== undefined) return { ...looked, problem: entry.problem }
    const read = readCslItem(entry.given, entry.key)
    if (typeof read === 'string') return { ...looked, problem: read }
    const { words, other, lost } = fromCslItem(read.item)
    const form = readSourceForm(words)
    const all = [...looked.lost, ...read.lost.map((what) => `${what}: left out`), ...lost]
    if (!form.ok) {
      const problem = Object.entries(form.problems).map(([field, message]) => `${field}: ${message}`)
      return { ...looked, lost: all, problem: problem.join(' ') }
    }
    const keys = keysOf(form.value)
    const same = findSame(keys, known, before)
    for (const { key } of keys) if (!before.has(key)) before.set(key, number)
    return { ...looked, lost: all, form: form.value, other, same }
  })
}

function findSame(
  keys: ReturnType<typeof keysOf>,
  known: ReadonlyMap<string, Source>,
  before: ReadonlyMap<string, number>,
): Same | undefined {
  for (const { by, key } of keys) {
    const source = known.get(key)
    if (source) return { by, source }
    const number = before.get(key)
    if (number !== undefined) return { by, number }
  }
  return undefined
}

/** An array of items, or one alone. */
function readCslJson(text: string): ReadEntry[] {
  let given: unknown
  try {
    given = JSON.parse(text)
  } catch (error) {
    const said = error instanceof SyntaxError ? error.message : 'it is nested too deep.'
    return [{ place: 'the whole of it', key: '', problem: `This is no JSON: ${said.slice(0, 200)}`, unknown: [] }]
  }
  const items: readonly unknown[] = Array.isArray(given) ? given : [given]
  const entries = items
    .slice(0, MOST_ENTRIES)
    .map((item, at) => ({ place: `item ${at + 1}`, key: `item${at + 1}`, given: item, unknown: [] }))
  if (items.length <= MOST_ENTRIES) return entries
  const problem = `${items.length} sources at once; at most ${MOST_ENTRIES} are read.`
  return [...entries, { place: 'the rest', key: '', problem, unknown: [] }]
}
