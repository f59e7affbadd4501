import { readChosen } from '../../server/catalogue/facet.ts'
import { listEntries } from '../../server/catalogue/listing.ts'
import { originals } from '../../server/catalogue/originals.ts'
import { searchNotebook } from '../../server/catalogue/search-queries.ts'
import { toMatch } from '../../server/catalogue/search-words.ts'
import type { Db } from '../../server/db/open.ts'
import { insertMember } from '../../server/member/queries.ts'
import { findOriginal, insertOriginal } from '../../server/original/queries.ts'
import { asViewer, type Viewer } from '../../server/rights/viewer.ts'
import { asRatio, takeTurns, tell } from './measure.ts'

const ORIGINALS = 10_000
const ROUNDS = 15
const LOOK_UPS = 200

/** Search and list of a notebook far larger than one maker fills, beside looking up one row by its key. */
export async function benchCatalogue(db: Db): Promise<void> {
  fill(db)
  const viewer = shareAmongTwo(db)
  const search = (typed: string) => {
    const match = toMatch(typed)
    if (match === undefined) throw new Error(`“${typed}” has nothing to search for`)
    return () => searchNotebook(db, match)
  }
  const list = (query: Record<string, string>, after?: { id: number; text: string }) => () =>
    listEntries(db, originals(), readChosen(query, originals().facets), after)
  const deep = { id: ORIGINALS - 100, text: nameOf(ORIGINALS - 100) }
  const taken = await takeTurns(
    {
      one: { run: () => repeat(LOOK_UPS, (time) => findOriginal(db, 1 + time)), times: LOOK_UPS },
      rare: { run: search('quillwort') },
      many: { run: search('tablet') },
      prefix: { run: search('ta') },
      two: { run: search('tablet fen') },
      first: { run: list({}) },
      deep: { run: list({}, deep) },
      filtered: { run: list({ technique: TECHNIQUES[1]! }) },
      memberMany: { run: () => asViewer(viewer, search('tablet')) },
      memberPrefix: { run: () => asViewer(viewer, search('ta')) },
      memberFirst: { run: () => asViewer(viewer, list({})) },
    },
    ROUNDS,
  )
  console.log(`Catalogue: ${ORIGINALS} originals in memory; medians of n = ${ROUNDS} rounds`)
  tell('one original by its key', taken.one, `mean of ${LOOK_UPS} in each round`)
  const line = (what: string, ms: number) => tell(what, ms, asRatio(ms, taken.one, 'one by its key'))
  const hits = (typed: string) => search(typed)().counts.original
  line(`search, a word in ${hits('quillwort')} of them`, taken.rare)
  line(`search, a word in ${hits('tablet')} of them`, taken.many)
  line(`search, two letters of it (${hits('ta')} hits)`, taken.prefix)
  line(`search, two words (${hits('tablet fen')} hits)`, taken.two)
  line('list, first page, filters counted', taken.first)
  line('list, last page but one', taken.deep)
  line('list, filtered by technique', taken.filtered)
  const seen = asViewer(viewer, search('tablet')).counts.original
  line(`a member who may see two thirds: search (${seen} hits)`, taken.memberMany)
  line('the same, two letters of it', taken.memberPrefix)
  line('the same, list, first page', taken.memberFirst)
}

/** A third of the originals are one member's, the rest another's, half of which nobody else may see. */
function shareAmongTwo(db: Db): Viewer {
  const [one, other] = ['One', 'Other'].map((name) => {
    const member = { name, signInName: name, passwordHash: 'none, for nobody signs in' }
    return insertMember(db, member, 'member', new Date('2026-11-24T12:00:00Z')) as number
  })
  db.raw.prepare(`update original set owner_id = iif(id % 3 = 0, ?, ?)`).run(one, other)
  db.raw.exec(`update original set visibility = iif(id % 2 = 0, 'members', 'private')`)
  return { kind: 'member', id: one!, name: 'One', role: 'member' }
}

const TECHNIQUES = ['tablet weaving', 'loop braiding', 'plain weave', 'sprang', ''] as const
const HOLDERS = Array.from({ length: 40 }, (_, at) => `Museum of the ${at}th marsh`)
const nameOf = (at: number) => `Band ${String(at).padStart(5, '0')}`

function fill(db: Db): void {
  const at = '2026-11-24T12:00:00.000Z'
  db.write(() =>
    repeat(ORIGINALS, (index) =>
      insertOriginal(
        db,
        {
          name: nameOf(index),
          otherNames: '',
          holder: HOLDERS[index % HOLDERS.length]!,
          inventoryNumber: `FM ${index}`,
          findPlace: index % 7 === 0 ? 'Low fen' : 'High bank',
          findContext: 'From a ditch, with a wooden comb.',
          date: undefined,
          technique: TECHNIQUES[index % TECHNIQUES.length]!,
          preservation: '',
          notes: `A narrow band, one of many.${index % 400 === 0 ? ' It lay under quillwort.' : ''}`,
        },
        at,
      ),
    ),
  )
}

function repeat(times: number, work: (time: number) => unknown): void {
  for (let time = 0; time < times; time += 1) work(time)
}
