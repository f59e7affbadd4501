import { STEP } from '../../draft-page/sample.ts'
import { makePhoto } from '../../rights/things.ts'
import { makeQuote } from '../../support/rows.ts'
import type { createFiller } from './fill.ts'
import type { Answer, Target } from './target.ts'

export type Fill = ReturnType<typeof createFiller>['fill']
export type Keep = (where: string, answer: Answer) => void

export interface Things {
  readonly original: number
  readonly source: number
  readonly draft: number
  /** The first of the draft, by its id in the notebook. */
  readonly draftRevision: number
  readonly piece: number
  readonly claim: number
  readonly sitting: number
  readonly photo: number
  readonly observed: number
  readonly yarn: number
  readonly lot: number
  readonly movement: number
  readonly quote: number
  readonly judgement: number
  readonly decision: number
  readonly weighting: number
}

const idIn = (location: string) => Number(/(\d+)(?:\?|$|#)/.exec(location.replace(/#.*/, ''))?.[1])
/** Whatever is typed into these is taken. */
const hasNoClosed = (action: string) => /working$|withdraw$|convention$/.test(action)
const CLAIM = { kind: 'text', basis: 'read', state: 'asPreserved', feature: 'structure', working: '' }

/** One thing of each sort with the words of a group in every field, each of them made, changed, and met by somebody else. */
export async function fillGroup(target: Target, send: Fill, group: readonly string[], wrong: string): Promise<Things> {
  const fill = (
    page: string,
    action: string,
    words: readonly string[],
    given: Record<string, string> = {},
    expected = 303,
  ) => send(page, action, words, given, { expected, wrong: expected === 409 || hasNoClosed(action) ? '' : wrong })
  const newest = (table: string) => Number(target.db.raw.prepare(`select max(id) from ${table}`).pluck().get())
  const versionOf = (path: string) => {
    const [, table = '', id] = path.split('/')
    return Number(
      target.db.raw
        .prepare(`select version from ${table.slice(0, -1)} where id = ?`)
        .pluck()
        .get(id),
    )
  }
  // Short fields take the first words of a group, and its last ones where something is changed.
  const again = [...group].reverse()
  const original = idIn((await fill('/originals/new', '/originals', group)).location)
  const source = idIn((await fill('/sources/new', '/sources', group, { kind: 'book' })).location)
  const draft = idIn((await fill('/drafts/new', '/drafts', group, { original: `${original}` })).location)
  const draftRevision = newest('draft_revision')
  const woven = { original: `${original}`, revision: `${draftRevision}` }
  const piece = idIn((await fill('/pieces/new', '/pieces', group, woven)).location)
  await fill(`/originals/${original}/claims/new?feature=structure`, `/originals/${original}/claims`, group, CLAIM)
  const claim = newest('claim')
  await fill(`/pieces/${piece}/claims/new?feature=structure`, `/pieces/${piece}/claims`, again, {
    ...CLAIM,
    source: `${source}`,
    newSource: '',
  })
  await fill(`/claims/${claim}/correct`, `/claims/${claim}/correct`, group, { ...CLAIM, source: '', claimedOn: '' })
  await fill(`/claims/${claim}`, `/claims/${claim}/working`, group)
  await fill(`/claims/${newest('claim')}`, `/claims/${newest('claim')}/withdraw`, group)
  await fill(`/pieces/${piece}/sittings/new`, `/pieces/${piece}/sittings`, group, { stage: 'weave' })
  const sitting = newest('sitting')
  await fill(`/observed/new?original=${original}`, `/originals/${original}/observed`, group)
  await fill(`/observed/new?piece=${piece}`, `/pieces/${piece}/observed`, again)
  const observed = newest('observed')
  const photo = makePhoto(target.db, { original_id: original })
  await fill(`/photos/${photo}/edit`, `/photos/${photo}`, group, { licence: 'CC-BY-4.0' })
  const yarn = idIn((await fill('/yarns/new', '/yarns', group)).location)
  const lot = idIn((await fill(`/yarns/${yarn}/lots/new`, `/yarns/${yarn}/lots`, group)).location)
  await fill(`/lots/${lot}?do=bought`, `/lots/${lot}/movements`, group, { kind: 'bought', grams: '10' })
  const movement = newest('movement')
  await fill(`/lots/${lot}?do=reserved`, `/lots/${lot}/movements`, again, {
    kind: 'reserved',
    grams: '4',
    piece: `${piece}`,
  })
  await fill(`/movements/${movement}/correct`, `/movements/${movement}/correct`, group, { grams: '9' })
  // A maker keeps one a fibre.
  const fibre = `fibre ${'x'.repeat(1 + (newest('fibre_density') % 50))}`
  await fill('/yarns/fibres/new', '/yarns/fibres', group, { fibre, low: '1.3', high: '' })
  const density = `/yarns/fibres/${newest('fibre_density')}`
  await fill(`${density}/edit`, density, again, { fibre, low: '1.3', high: '', version: '1' })
  const ownerOf = target.db.raw.prepare<[number], number>('select owner_id from piece where id = ?').pluck()
  const quote = makeQuote(target.db, { owner_id: ownerOf.get(piece) ?? null, piece_id: piece })
  await fill(`/quotes/${quote}`, `/quotes/${quote}`, group, { version: '1' })
  await fill(`/quotes/${quote}`, `/quotes/${quote}`, again, { version: '1' }, 409)
  await fill(`/quotes/${quote}`, `/quotes/${quote}`, again, { version: '2', then: 'send' })
  const terms = target.db.raw.prepare<[], number>('select coalesce(max(version), 0) from quote_terms').pluck()
  await fill('/quotes/terms', '/quotes/terms', group, { opened: String(terms.get()) })
  await fill(`/pieces/${piece}/judgements/new?spot=fibre-warp`, `/pieces/${piece}/judgements`, group, {
    ...{ spot: 'fibre-warp', relation: 'near', reasonKind: 'other' },
  })
  const judgement = newest('judgement')
  await fill(`/originals/${original}/decisions/new`, `/originals/${original}/decisions`, group)
  await fill(`/pieces/${piece}/decisions/new`, `/pieces/${piece}/decisions`, again)
  const decision = newest('decision')
  const weighting = idIn((await fill('/weightings/new', '/weightings', group)).location)
  const edits = [
    ...[`/judgements/${judgement}`, `/decisions/${decision}`, `/weightings/${weighting}`],
    ...[`/yarns/${yarn}`, `/lots/${lot}`],
    ...[`/originals/${original}`, `/sources/${source}`, `/pieces/${piece}`, `/sittings/${sitting}`],
    ...[`/drafts/${draft}`],
  ]
  for (const path of edits) {
    const page = path.startsWith('/drafts') ? `${path}/details` : `${path}/edit`
    const version = String(versionOf(path))
    await fill(page, path, [...again, 'again'], { version })
    // Opened on the version before: both texts are shown.
    await fill(page, path, [...again, 'mine'], { version }, 409)
  }
  await fill(`/drafts/${draft}/edit`, `/drafts/${draft}/revisions`, group)
  await fill(`/drafts/${draft}/convention`, `/drafts/${draft}/convention`, group, {
    version: String(versionOf(`/drafts/${draft}`)),
  })
  return {
    ...{ original, source, draft, draftRevision, piece, claim, sitting, photo, observed, yarn, lot, movement },
    ...{ judgement, decision, weighting, quote },
  }
}

/** What is shown of a revision, below its address. */
const PARTS = [
  ...['face.svg', 'reverse.svg', 'threading.svg', 'twist.svg', 'document.json', 'cards', 'tell', 'export'],
  ...['draft.txt', 'turns.csv', 'face.csv', 'reverse.csv'],
]

/** What is handed to museums of an original and of a piece. */
const EXCHANGED = ['lido.xml', 'dublin-core.xml', 'linked-art.json', 'schema-org.json', 'manifest.json']

/** Everything that shows the things of a group, to whoever may see it. */
export const pagesOf = ({
  original,
  source,
  draft,
  draftRevision,
  piece,
  claim,
  sitting,
  photo,
  observed,
  yarn,
  lot,
  movement,
  quote,
  judgement,
  decision,
  weighting,
}: Things): [path: string, as: string][] => {
  const shown = [`/originals/${original}`, `/sources/${source}`, `/drafts/${draft}`, `/pieces/${piece}`]
  const open = [
    ...shown,
    `/pieces/${piece}/compare`,
    `/pieces/${piece}/fidelity`,
    `/claims/${claim}`,
    `/photos/${photo}`,
    `/observed/${observed}`,
    `/observed/${observed}/face.svg`,
  ]
  const revision = `/drafts/${draft}/revisions/1`
  const own = [
    ...[...open, ...shown.map((path) => `${path}/history`), `/originals/${original}/edit`, `/pieces/${piece}/edit`],
    ...[`/sources/${source}/edit`, `/drafts/${draft}/edit`, `/drafts/${draft}/details`, `/drafts/${draft}/convention`],
    ...[`/sittings/${sitting}/edit`, `/photos/${photo}/edit`, `/claims/${claim}/correct`, `/pieces/${piece}/delete`],
    ...[`/pieces/${piece}/claims/new?feature=structure`, `/compare?piece=${piece}`, `/drafts/${draft}/bench`],
    ...[`/originals/${original}/photos/new`, `/pieces/${piece}/photos/new`, `/observed/new?piece=${piece}`],
    ...[
      `/pieces/${piece}/sittings/new`,
      `/originals/new`,
      `/pieces/new?draft=${draft}`,
      `/drafts/${draft}/bench/copy.json`,
    ],
    ...[`/drafts/overlay?a=${draftRevision}&b=${draftRevision + 1}`, `/drafts/new?original=${original}`],
    ...[`/yarns/${yarn}`, `/yarns/${yarn}/edit`, `/yarns/${yarn}/history`, `/yarns/${yarn}/lots/new`, '/yarns'],
    ...[`/lots/${lot}`, `/lots/${lot}/edit`, `/movements/${movement}/correct`, `/yarns/colour?lot=${lot}`],
    ...[
      `/quotes/${quote}`,
      `/quotes/${quote}/paper`,
      `/quotes/${quote}/versions/1`,
      '/quotes',
      '/quotes/terms',
      '/quotes/results',
    ],
    ...[
      `/pieces/${piece}/forecast?repeats=3`,
      `${revision}/forecast?repeats=3`,
      '/forecasts',
      `/quotes/new?piece=${piece}`,
    ],
    ...['bibtex', 'ris', 'csl'].map((format) => `/sources/export?format=${format}`),
    ...[`/originals/${original}`, `/pieces/${piece}`].flatMap((path) => EXCHANGED.map((name) => `${path}/${name}`)),
    ...['loom', 'loom/file.html', 'loom/manifest.webmanifest', 'loom/icon.svg', 'hours', 'hours.csv', 'pace'].map(
      (name) => `/pieces/${piece}/${name}`,
    ),
    ...['/hours.csv', '/pace', '/loom/worker.js', '/bibliography', '/claims/unsupported', '/sources/import'],
    ...['/yarns/fibres', '/yarns/lots.csv', '/yarns/import', `${revision}/lots`, `/pieces/${piece}/settle`],
    ...[`/judgements/${judgement}/edit`, `/decisions/${decision}/edit`, `/fidelity?piece=${piece}`, '/weightings'],
    ...['', '/edit', '/history'].map((name) => `/weightings/${weighting}${name}`),
    ...[`/pieces/${piece}/judgements/new?spot=dye-warp`, `/pieces/${piece}/fidelity?by=${weighting}`],
    ...['plan', 'plan/cards', 'plan/threading'].map((name) => `/pieces/${piece}/${name}`),
    ...[revision, `${revision}/recover`, `${revision}/recover?pick=1&tablet=1&topNear=A&topFar=B`],
    ...PARTS.map((name) => `${revision}/${name}`),
  ]
  const as = (paths: readonly string[], who: string) => paths.map((path): [string, string] => [path, who])
  return [
    ...as(own, 'owner'),
    ...as(open, 'anonymous'),
    ...as(shown, 'other'),
    ...as([`/pieces/${piece}/history`], 'coMaker'),
  ]
}

/** Forms with one field, where every payload comes alone; what has piled up is shown at the end. */
export async function fillAlone(target: Target, fill: Fill, keep: Keep, texts: readonly string[]): Promise<void> {
  for (const [at, text] of texts.map((each) => each.replace(/\p{Cc}|\u2028/gu, ' ')).entries()) {
    // Numbered, for one name is not taken twice, in whatever case.
    if (text.length <= 75) await fill('/features/new', '/features', [`${text} ${at}`])
    if (text.length > 100) continue
    await fill('/account', '/account/tokens', [text], {}, { expected: 200 })
    await fill('/account', '/account', [text])
    keep('GET /members', await target.send('/members', 'keeper'))
  }
  for (const path of ['/account', '/features', '/']) keep(`GET ${path}`, await target.send(path, 'owner'))
  keep('GET /members/:id/leave', await target.send('/members/2/leave', 'keeper'))
}

/** Forms that need a token or a file, and what nobody signed in sends. */
export async function fillRest(target: Target, fill: Fill, keep: Keep, groups: readonly string[][]): Promise<void> {
  const document = (text: string) => {
    const colours = { m: { name: text.slice(0, 40).trim(), hex: '#9c3b2e' }, w: { name: 'w', hex: '#ffffff' } }
    return JSON.stringify({ ...STEP, title: text.slice(0, 120).trim(), colours })
  }
  for (const group of groups) {
    const plain = group.join(' ').replace(/\p{Cc}|\u2028/gu, ' ')
    // It is looked at first, and kept only when somebody says so.
    await fill('/drafts/import', '/drafts/import', group, { document: document(plain) }, { expected: 200 })
    const cell = `"${plain.slice(0, 100).trim().replace(/"/g, '""')}"`
    await fill('/yarns/import', '/yarns/import', group, { document: `Yarn,Colour\n${cell},${cell}` }, { expected: 200 })
    await fill('/drafts/new/bench', '/drafts/new/bench', group)
    await benchKeeps(target, keep, document(plain), group.join('\n\n'))
    const kept = new URLSearchParams({ document: document(plain), notes: group.join('\n\n'), original: '' })
    keep('POST /drafts/infer/keep', await target.send('/drafts/infer/keep', 'owner', kept))
    keep('GET /search?q=', await target.send(`/search?q=${encodeURIComponent(group.join(' '))}`, 'owner'))
  }
}

/** What the bench sends: a working copy, and a revision with a note; each also as no bench would. */
async function benchKeeps(target: Target, keep: Keep, document: string, note: string): Promise<void> {
  const newest = Number(target.db.raw.prepare('select max(id) from draft').pluck().get())
  const bench = `/drafts/${newest}/bench`
  const send = async (path: string, body: object) => keep(`POST ${path}`, await target.send(path, 'owner', body))
  await send(`${bench}/copy`, { document: JSON.parse(document) as object, base: 1, version: 0 })
  await send(`${bench}/copy`, { document: note, base: note, version: note })
  keep('GET /drafts/:id/bench, with a copy', await target.send(bench, 'owner'))
  await send(`${bench}/revision`, { document: { [note.slice(0, 50)]: note }, note, newest: 1 })
  await send(`${bench}/revision`, { document: JSON.parse(document) as object, note, newest: 1 })
  for (const path of [`/drafts/${newest}`, `/drafts/${newest}/revisions/2`, `/drafts/${newest}/history`])
    keep('GET a revision from the bench', await target.send(path, 'owner'))
}
