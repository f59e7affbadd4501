import fc from 'fast-check'
import type { Json } from '../../shared/archive/canonical.ts'
import { ANSWERS, type ConventionCard, QUESTIONS } from '../../shared/draft/convention/card.ts'
import { writtenText } from '../../shared/draft/convention/written.ts'
import { canonicalDraft } from '../../shared/draft/document.ts'
import { writeObserved } from '../../shared/draft/infer/observed-text.ts'
import { MOST_PLACE, STEP_KINDS } from '../../shared/loom/step.ts'
import { PLAN_FIELDS } from '../../shared/plan/entry.ts'
import { BASES, BLANKS, STATES } from '../../shared/measure/claim-word.ts'
import { ASPECTS, SPOTS } from '../../shared/fidelity/aspect.ts'
import { REASONS, RELATIONS } from '../../shared/fidelity/relation.ts'
import { STAGES } from '../../shared/work/stage.ts'
import type { Notebook } from '../../server/archive/notebook.ts'
import type { ArchiveRecord } from '../../server/archive/record.ts'
import { COUNT_SYSTEM_KEYS } from '../../server/piece/yarn-form.ts'
import { ORIGINS } from '../../server/sitting/origin.ts'
import { SOURCE_KIND_KEYS } from '../../server/source/form.ts'
import { arbitraryDraft } from '../draft/arbitrary-draft.ts'
import { arbitraryQuotes, toQuoteRecords } from './generate-quote.ts'

// Records of every kind with every field: empty, at its ends, and with characters of every script. Only half characters
// and control characters are left out, which no form takes.

const text = fc.oneof(
  fc.constantFrom('', '=1+1', ' @x', '\u202eabc', '…', '13.0', 'a\n\tb', '__proto__', '"', '\\', '\u2028'),
  fc
    .string({ unit: 'binary', maxLength: 12 })
    .map((typed) => typed.replace(/[\u0000-\u001f\u007f]|\p{Surrogate}/gu, '')),
)
const uid = fc.stringMatching(/^[0-9a-f]{32}$/)
const instant = fc
  .date({ min: new Date('1000-01-01'), max: new Date('9999-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString())
const day = instant.map((at) => at.slice(0, 10))
const orNull = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null })
const decimal = fc.oneof(
  fc.constantFrom('0', '13.0', '0.000000000001', '999999999999', '+5', '7e-7'),
  fc.nat().map(String),
)
const real = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }).map((value) => String(value === 0 ? 0 : value))

const owned = {
  demo: fc.boolean(),
  visibility: fc.constantFrom('private', 'members', 'published'),
  deletedAt: orNull(instant),
  createdAt: instant,
  updatedAt: instant,
}
const texts = <K extends string>(...keys: K[]) =>
  Object.fromEntries(keys.map((key) => [key, text])) as Record<K, fc.Arbitrary<string>>

const source = {
  ...texts('title', 'people', 'container', 'year', 'pages', 'doi', 'isbn', 'notes'),
  ...texts('editors', 'volume', 'issue', 'publisher', 'place', 'edition', 'issn', 'accessedOn', 'citeKey'),
  otherCsl: fc.constantFrom('', '{"translator":[{"family":"Visser","given":"Ada"}],"language":"nl"}'),
  kind: fc.constantFrom(...SOURCE_KIND_KEYS),
  url: fc.constantFrom('', 'https://example.org/ä?q=1#x', 'http://127.0.0.1/'),
  ...owned,
}
const original = {
  ...texts(
    'name',
    'holder',
    'inventoryNumber',
    'findPlace',
    'findContext',
    'technique',
    'otherNames',
    'preservation',
    'notes',
  ),
  dateEdtf: fc.constantFrom('', '-0449~', '198X', '1021/1035', '0800?', '../1500'),
  ...owned,
}
const answers = fc.record(
  Object.fromEntries(QUESTIONS.map((question) => [question, fc.constantFrom(...ANSWERS[question])])),
) as unknown as fc.Arbitrary<ConventionCard>
const draft = {
  ...texts('title', 'notes', 'conventionNote'),
  convention: fc.oneof(
    fc.constantFrom('', 'own'),
    answers.map((card) => writtenText({ kind: 'card', card })),
  ),
  ...owned,
}
const revision = {
  note: text,
  createdAt: instant,
  document: arbitraryDraft.map(({ draft: woven }) => canonicalDraft(woven) as unknown as Json),
}
const piece = {
  ...texts('name', 'maker', 'forWhom', 'setAsideReason', 'notes', 'wentWrong'),
  ...{ plannedOn: orNull(day), onLoomOn: orNull(day), wovenOn: orNull(day), finishedOn: orNull(day) },
  setAsideOn: orNull(day),
  ...owned,
}
const yarn = {
  ...texts('role', 'yarn'),
  position: fc.nat(1_000_000),
  count: orNull(real),
  countSystem: fc.constantFrom(...COUNT_SYSTEM_KEYS),
  ply: fc.integer({ min: 1, max: 1000 }),
  colourKey: fc.constantFrom('', 'm', 'abcd1234'),
}
const claimWords = {
  ...texts('claimedBy', 'locator', 'reason', 'workingReason', 'withdrawnReason', 'part'),
  state: fc.constantFrom(...STATES.map((word) => word.key)),
  basis: fc.constantFrom(...BASES.map((word) => word.key)),
  claimedOn: orNull(day),
  createdAt: instant,
}
const [u, n, resolution] = [orNull(decimal), orNull(fc.integer({ min: 1, max: 1_000_000_000 })), orNull(decimal)]
const none = {
  value: null,
  low: null,
  high: null,
  words: null,
  readings: null,
  blank: null,
  unit: '',
  n: null,
  u: null,
  resolution: null,
}
const claimValue = fc.oneof(
  fc
    .record({ value: decimal, u, n })
    .map((some) => ({ ...none, kind: 'value', feature: 'width', unit: 'in', ...some })),
  fc
    .record({ low: decimal, high: orNull(decimal) })
    .map((some) => ({ ...none, kind: 'range', feature: 'ours', unit: 'mm', ...some })),
  fc
    .record({ readings: text, resolution })
    .map((some) => ({ ...none, kind: 'readings', feature: 'tablets', unit: 'count', ...some })),
  fc.record({ words: text }).map((some) => ({ ...none, kind: 'text', feature: 'structure', ...some })),
  fc
    .constantFrom(...BLANKS.map((word) => word.key))
    .map((blank) => ({ ...none, kind: 'blank', feature: 'edges', blank })),
)
const times = fc
  .record({ start: orNull(instant), minutes: fc.nat(100_000), share: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ start, minutes, share }) => ({
    startedAt: start,
    endedAt: start && new Date(Math.min(Date.parse(start) + minutes * 60_000, 253402300799000)).toISOString(),
    minutes,
    breakMinutes: Math.floor(minutes * share),
  }))
const sitting = {
  ...texts('maker', 'note'),
  stage: fc.constantFrom(...STAGES),
  zone: fc.constantFrom('Europe/Berlin', 'UTC', 'America/St_Johns'),
  day,
  picks: orNull(fc.nat(1_000_000_000)),
  repeats: orNull(real),
  lengthMm: orNull(real),
  origin: fc.constantFrom(...ORIGINS),
  ...{ stepsFrom: orNull(instant), stepsTo: orNull(instant), saidStartedAt: orNull(instant) },
  ...{ saidEndedAt: orNull(instant), saidStage: orNull(fc.constantFrom(...STAGES)) },
  ...{ saidBreakMinutes: orNull(fc.nat(100_000)), saidPicks: orNull(fc.nat(1_000_000_000)) },
  deletedAt: orNull(instant),
  createdAt: instant,
  updatedAt: instant,
}
const photo = {
  ...texts('part', 'caption', 'credit', 'licence'),
  takenOn: fc.constantFrom(null, '1987', '2024-06', '2024-02-29'),
  width: fc.integer({ min: 1, max: 4000 }),
  height: fc.integer({ min: 1, max: 4000 }),
  deletedAt: orNull(instant),
  createdAt: instant,
  updatedAt: instant,
}
const cell = fc.constantFrom('m', 'w2', null)
const observed = {
  ...texts('observedBy', 'note'),
  colours: fc.constantFrom(
    '{"m":{"name":"madder","hex":"#9c3b2e"},"w2":{"name":"undyed","hex":"#e9dfc8"}}',
    '{"w2":{"name":"weiß","hex":"#ffffff"},"m":{"name":"","hex":"#000000"}}',
  ),
  cells: fc
    .integer({ min: 1, max: 4 })
    .chain((tablets) =>
      fc.array(fc.array(cell, { minLength: tablets, maxLength: tablets }), { minLength: 1, maxLength: 4 }),
    )
    .map((cells) => writeObserved({ cells })),
  marks: fc.constantFrom(
    '',
    '{"corners":{"startLeft":{"x":0,"y":9.5},"startRight":{"x":4,"y":9},"endRight":{"x":4,"y":0},"endLeft":{"x":0,"y":0}},' +
      '"bend":[{"across":0.1,"along":0},{"across":0,"along":0},{"across":0,"along":-0.01}],"tablets":4,"picks":9,"width":10,"height":12}',
  ),
  observedOn: orNull(day),
  shift: orNull(fc.nat(1000)),
  differing: fc.constantFrom('[]', '[{"pick":1,"tablet":2,"seen":"m","drafted":"w2"}]'),
  deletedAt: orNull(instant),
  createdAt: instant,
  updatedAt: instant,
}

const yarnKind = {
  ...texts('name', 'countReading', 'notes'),
  count: fc.constantFrom('', 'Nm 28/2', '20/2 wool', '?'),
  build: fc.constantFrom('', 'Z', 'Z2S3Z'),
  blend: fc.constantFrom('', 'wool', 'wool 80, silk 20', 'goat 33.3, wool 66.7'),
  ...{ wrapsPerCm: orNull(decimal), diameterMm: orNull(decimal) },
  supplier: text,
  ...owned,
}
const price = fc.constantFrom(
  { priceMinor: null, priceCurrency: '', priceFor: '' },
  { priceMinor: 0, priceCurrency: 'EUR', priceFor: 'whole' },
  { priceMinor: 123_456, priceCurrency: 'JPY', priceFor: '100g' },
)
const lot = {
  ...texts('colourName', 'dye', 'mordant', 'recipe', 'dyedBy', 'lotNumber', 'supplier', 'notes'),
  colourHex: fc.constantFrom('', '#000000', '#9c3b2e'),
  colourLab: fc.constantFrom('', '38.2 41,5 24', '0 0 0'),
  dyedOn: orNull(day),
  ...{ deletedAt: orNull(instant), createdAt: instant, updatedAt: instant },
}
const milligrams = fc.integer({ min: -1_000_000_000, max: 1_000_000_000 })
const movement = {
  kind: fc.constantFrom('bought', 'dyed', 'reserved', 'released', 'used', 'returned', 'sample', 'lost', 'stocktake'),
  ...{ day, massMg: milligrams, reservedMg: milligrams, note: text, createdAt: instant, acceptedBelow: fc.boolean() },
  ...{ expectedMg: orNull(milligrams), foundMg: orNull(milligrams) },
}

const plan = { ...texts(...PLAN_FIELDS), createdAt: instant, updatedAt: instant }
const loomStep = {
  ...{ device: uid, seq: fc.integer({ min: 1, max: 1_000_000_000 }), kind: fc.constantFrom(...STEP_KINDS), note: text },
  ...{ place: fc.nat(MOST_PLACE), at: instant, deviceAt: instant, receivedAt: instant },
  zone: fc.constantFrom('Europe/Berlin', 'UTC'),
}
/** One a part, so that no colour has two. */
const planYarns = fc.subarray([
  { part: 'warp', colourKey: 'm' },
  { part: 'warp', colourKey: 'abcd1234' },
  { part: 'weft', colourKey: '' },
])

/** One a fibre, as a maker keeps them. */
const densities = fc.uniqueArray(
  fc.record({
    ...{
      uid,
      fibre: fc.constantFrom('wool', 'linen', 'goat', 'fox’s hair'),
      source: fc.constantFrom('weighed', '=1+1'),
    },
    low: fc.constantFrom('0.2', '1.30', '1.31'),
    high: fc.constantFrom(null, '1.45', '25'),
    ...{ day, createdAt: instant, updatedAt: instant },
  }),
  { selector: ({ fibre }) => fibre, maxLength: 3 },
)

const MOST = 3
const stamped = { deletedAt: orNull(instant), createdAt: instant, updatedAt: instant }
const judgement = {
  ...texts('known', 'used', 'reason', 'labelWords', 'look', 'size', 'hand', 'wear'),
  relation: fc.constantFrom(...RELATIONS),
  reasonKind: fc.constantFrom('', ...REASONS),
  ...stamped,
}
const decision = { ...texts('question', 'decided', 'evidence', 'considered', 'decidedBy'), onDay: day, ...stamped }
const weighting = {
  ...texts('name', 'notes'),
  weights: fc
    .tuple(...ASPECTS.map(() => fc.nat(100)))
    .map((shares) => JSON.stringify(Object.fromEntries(ASPECTS.map((aspect, at) => [aspect, shares[at]! || 1])))),
  ...owned,
}
const onceASpot = <T extends { piece: string; aspect: string; place: string }>(all: readonly T[]): T[] => [
  ...new Map(all.map((one) => [`${one.piece} ${one.aspect} ${one.place}`, one])).values(),
]

const list = <T>(one: fc.Arbitrary<T>) => fc.array(one, { maxLength: MOST })
const nat = fc.nat(1_000_000)
const records = fc.record({
  features: fc.constantFrom(
    [{ key: 'ours', label: 'Fringe', quantity: 'length', createdAt: '2026-01-01T00:00:00.000Z' }],
    [
      { key: 'ours', label: 'Fränge „x“', quantity: 'length', createdAt: '1999-12-31T23:59:59.999Z' },
      { key: 'smell', label: '=smell', quantity: 'text', createdAt: '2026-01-01T00:00:00.000Z' },
    ],
  ),
  sources: list(fc.record({ uid, ...source })),
  originals: list(fc.record({ uid, ...original })),
  drafts: list(
    fc.record({
      at: nat,
      record: fc.record({ uid, ...draft }),
      revisions: fc.array(fc.record({ uid, ...revision }), { minLength: 1, maxLength: 2 }),
    }),
  ),
  pieces: list(fc.record({ at: nat, record: fc.record({ uid, ...piece }), yarns: list(fc.record({ uid, ...yarn })) })),
  claims: list(
    fc.record({
      at: nat,
      record: fc.record({ uid, ...claimWords }),
      value: claimValue,
      standing: fc.constantFrom('working', 'withdrawn', ''),
    }),
  ),
  sittings: list(fc.record({ at: nat, record: fc.record({ uid, ...sitting }), times })),
  photos: list(fc.record({ at: nat, record: fc.record({ uid, ...photo }) })),
  observed: list(fc.record({ at: nat, record: fc.record({ uid, ...observed }) })),
  yarns: list(fc.record({ uid, ...yarnKind })),
  lots: list(fc.record({ at: nat, record: fc.record({ uid, ...lot }), price })),
  movements: fc.array(fc.record({ at: nat, record: fc.record({ uid, ...movement }) }), { maxLength: 6 }),
  densities,
  ...arbitraryQuotes({ uid, text, day, instant }),
  loomSteps: list(fc.record({ at: nat, record: fc.record({ uid, ...loomStep }) })),
  judgements: list(fc.record({ at: nat, record: fc.record({ uid, ...judgement }), spot: fc.constantFrom(...SPOTS) })),
  decisions: list(fc.record({ at: nat, record: fc.record({ uid, ...decision }) })),
  weightings: list(fc.record({ uid, ...weighting })),
  plans: list(
    fc.record({ record: fc.record({ uid, ...plan }), yarns: planYarns, uids: fc.tuple(uid, uid, uid), count: text }),
  ),
})

/** A whole notebook whose records point at each other, as its archive holds it; hashes of photographs are filled in later. */
export const arbitraryNotebook: fc.Arbitrary<Notebook> = records.map((some) => {
  const pick = (uids: readonly { readonly uid: string }[], at: number) =>
    at % 4 === 3 || uids.length === 0 ? null : uids[at % uids.length]!.uid
  const drafts = some.drafts.map(({ at, record, revisions }) => ({
    ...record,
    original: pick(some.originals, at),
    revisions: revisions.map((each, index) => ({ ...each, number: index + 1 + (at % 2) })),
  }))
  const revisions = drafts.flatMap((each) => each.revisions)
  const lots = some.lots.flatMap(({ at, record, price: paid }) =>
    some.yarns.length === 0 ? [] : { ...record, ...paid, yarn: some.yarns[at % some.yarns.length]!.uid },
  )
  const pieces = some.pieces.map(({ at, record, yarns }) => ({
    ...record,
    original: pick(some.originals, at),
    draftRevision: pick(revisions, at >> 2),
    yarns: [...yarns]
      .sort((a, b) => a.position - b.position || (a.uid < b.uid ? -1 : 1))
      .map((each) => ({ ...each, lot: pick(lots, at >> 3) })),
  }))
  const subject = (at: number) => {
    const [first, second] = at % 2 === 0 ? [some.originals, pieces] : [pieces, some.originals]
    const chosen = first[at % Math.max(1, first.length)] ?? second[0]
    if (!chosen) return undefined
    return pieces.some((each) => each === chosen)
      ? { original: null, piece: chosen.uid }
      : { original: chosen.uid, piece: null }
  }
  const working = new Set<string>()
  const claims = some.claims.flatMap(({ at, record, value, standing }, index) => {
    const about = subject(at)
    if (!about) return []
    const place = JSON.stringify([about, value.feature, record.part])
    const isWorking = standing === 'working' && !working.has(place)
    if (isWorking) working.add(place)
    return {
      ...{ ...record, ...value, ...about, working: isWorking, source: pick(some.sources, at) },
      withdrawnOn: standing === 'withdrawn' ? '2026-02-28' : null,
      corrects: index > 0 && at % 3 === 0 ? some.claims[index - 1]!.record.uid : null,
    }
  })
  const movements = some.movements.flatMap(({ at, record }, index, all) => {
    if (lots.length === 0) return []
    const first = all[0]!
    const [own, corrected] = [lots[at % lots.length]!.uid, lots[first.at % lots.length]!.uid]
    const corrects = index > 0 && at % 3 === 0 ? { kind: 'correction', corrects: first.record.uid, lot: corrected } : {}
    const about = { piece: pick(pieces, at >> 2), otherLot: pick(lots, at >> 4) }
    return { ...record, ...about, lot: own, corrects: null, ...corrects }
  })
  const inside = new Set(claims.map((each) => each.uid))
  return {
    features: some.features,
    records: sorted({
      source: some.sources,
      original: some.originals,
      draft: drafts,
      piece: pieces,
      claim: claims.map((each) => ({
        ...each,
        corrects: each.corrects && inside.has(each.corrects) ? each.corrects : null,
      })),
      sitting: some.sittings.flatMap(({ at, record, times: span }) =>
        pieces.length === 0 ? [] : { ...record, ...span, piece: pieces[at % pieces.length]!.uid },
      ),
      photo: some.photos.flatMap(({ at, record }) => {
        const about = subject(at)
        return about ? { ...record, ...about, sha256: '0'.repeat(64) } : []
      }),
      observed: some.observed.flatMap(({ at, record }) => {
        const about = subject(at)
        // Of the photographs only those that come in themselves.
        const photo = subject(some.photos[0]?.at ?? 0)
          ? pick(
              some.photos.map((each) => each.record),
              at,
            )
          : null
        return about ? { ...record, ...about, photo, draftRevision: pick(revisions, at >> 2) } : []
      }),
      ...{ yarn: some.yarns, lot: lots, movement: movements, fibre_density: some.densities },
      ...toQuoteRecords(some, pieces, revisions),
      loom_step: some.loomSteps.flatMap(({ at, record }) =>
        pieces.length === 0
          ? []
          : [{ ...record, piece: pieces[at % pieces.length]!.uid, draftRevision: pick(revisions, at >> 2) }],
      ),
      // A piece has one judgement of an aspect at a place.
      judgement: onceASpot(
        some.judgements.flatMap(({ at, record, spot }) =>
          pieces.length === 0 ? [] : { ...record, ...spot, piece: pieces[at % pieces.length]!.uid },
        ),
      ),
      decision: some.decisions.flatMap(({ at, record }) => {
        const about = subject(at)
        return about ? { ...record, ...about } : []
      }),
      weighting: some.weightings,
      // A piece has one plan.
      plan: some.plans.slice(0, pieces.length).map(({ record, yarns, uids, count }, index) => ({
        ...record,
        piece: pieces[index]!.uid,
        yarns: yarns.map((each, position) => ({
          ...{ ...each, uid: uids[position]!, position, count },
          ...{ lot: pick(lots, index + position), yarn: pick(some.yarns, index + position + 1) },
        })),
      })),
    }),
  }
})

const sorted = (all: Record<string, readonly object[]>) =>
  Object.fromEntries(
    Object.entries(all).map(([kind, some]) => [
      kind,
      (some as ArchiveRecord[]).toSorted((a, b) => (a.uid < b.uid ? -1 : 1)),
    ]),
  ) as unknown as Notebook['records']
