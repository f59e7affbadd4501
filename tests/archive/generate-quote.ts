import fc from 'fast-check'
import type { ArchiveRecord } from '../../server/archive/record.ts'
import { QUOTE_FIELDS } from '../../shared/price/quote-entry.ts'

// Forecasts, quotes and the terms of a maker, as an archive of their owner holds them.

interface Parts {
  readonly uid: fc.Arbitrary<string>
  readonly text: fc.Arbitrary<string>
  readonly day: fc.Arbitrary<string>
  readonly instant: fc.Arbitrary<string>
}

const nat = fc.nat(1_000_000)

export const arbitraryQuotes = ({ uid, text, day, instant }: Parts) => {
  const entered = fc
    .uniqueArray(fc.tuple(fc.constantFrom(...QUOTE_FIELDS), text), { maxLength: 4, selector: ([name]) => name })
    .map((typed) => JSON.stringify(Object.fromEntries(typed)))
  const minutes = fc.tuple(nat, nat, nat, nat).map(([doneMinutes, low, more, most]) => ({
    ...{ doneMinutes, lowMinutes: low, likelyMinutes: low + more, highMinutes: low + more + most },
  }))
  const version = fc.record({
    uid,
    sentOn: day,
    sentAt: instant,
    entered,
    paper: fc.constantFrom('{}', '{"a":["=1"]}'),
  })
  return {
    forecasts: fc.array(
      fc.record({
        ...{ at: nat, minutes },
        record: fc.record({
          ...{ uid, madeOn: day, madeAt: instant, base: text, demo: fc.boolean() },
          stages: fc.constantFrom('[]', '[{"stage":"weave","minutes":60,"by":"guess","n":0}]'),
          keptBy: fc.constantFrom('button', 'quote'),
        }),
      }),
      { maxLength: 3 },
    ),
    quotes: fc.array(
      fc.record({
        ...{ at: nat, answeredOn: day, deletedAt: fc.option(instant, { nil: null }) },
        state: fc.constantFrom('draft', 'sent', 'accepted', 'declined', 'lapsed', 'withdrawn'),
        record: fc.record({ uid, entered, demo: fc.boolean(), createdAt: instant, updatedAt: instant }),
        versions: fc.array(version, { minLength: 1, maxLength: 2 }),
      }),
      { maxLength: 3 },
    ),
    terms: fc.array(fc.record({ uid, entered, createdAt: instant, updatedAt: instant }), { maxLength: 1 }),
  }
}

type Some = {
  [K in keyof ReturnType<typeof arbitraryQuotes>]: ReturnType<typeof arbitraryQuotes>[K] extends fc.Arbitrary<infer T>
    ? T
    : never
}
type Uids = readonly { readonly uid: string }[]

/** The records, pointing at what else there is. */
export function toQuoteRecords(
  some: Some,
  pieces: Uids,
  revisions: Uids,
): Record<'forecast' | 'quote' | 'quote_terms', ArchiveRecord[]> {
  const pick = (uids: Uids, at: number) => uids[at % uids.length]?.uid ?? null
  const forecast = some.forecasts.flatMap(({ at, minutes, record }) => {
    const piece = at % 2 === 0 ? pick(pieces, at) : null
    const draftRevision = at % 3 === 0 || piece === null ? pick(revisions, at) : null
    const kind = piece !== null && at % 4 === 0 ? 'remaining' : 'whole'
    return piece === null && draftRevision === null ? [] : [{ ...record, ...minutes, piece, draftRevision, kind }]
  })
  const quote = some.quotes.map(({ at, answeredOn, deletedAt, state, record, versions }, index) => {
    const isDraft = state === 'draft'
    const about = { piece: pick(pieces, at), draftRevision: pick(revisions, at), forecast: pick(forecast, at) }
    return {
      ...{ ...record, ...about, state, deletedAt: isDraft ? deletedAt : null },
      answeredOn: isDraft || state === 'sent' ? null : answeredOn,
      ...{ numberYear: isDraft ? null : 2026, numberSerial: isDraft ? null : index + 1 },
      versions: isDraft ? [] : versions.map((each, number) => ({ ...each, number: number + 1 })),
    }
  })
  return { forecast, quote, quote_terms: some.terms }
}
