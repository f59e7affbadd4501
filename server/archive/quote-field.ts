import { QUOTE_FIELDS } from '../../shared/price/quote-entry.ts'
import type { Db } from '../db/open.ts'
import type { Alone } from '../rights/rule.ts'
import { currentMemberId } from '../rights/viewer.ts'
import { binned, field, flag, kept, oneOf, to, type Field } from './field.ts'
import { LENGTH_OF } from './length.ts'
import type { ArchiveRecord, Kind } from './record.ts'
import { day, instant, number, text } from './value.ts'

// Forecasts that were kept, quotes and what a maker keeps for them: their owner's alone, so they go with their owner's own
// archive and with no other.

export const ALONE: readonly Alone[] = ['forecast', 'quote', 'quote_terms']
export const isAloneKind = (kind: Kind): kind is Alone => ALONE.some((alone) => alone === kind)

const MOST_MINUTES = 1_000_000_000
const minutes = () => number(0, MOST_MINUTES)
const QUOTE_STATES = ['draft', 'sent', 'accepted', 'declined', 'lapsed', 'withdrawn'] as const

/** An object of texts, one for each field of a quote, word for word as it is kept. */
const entered = () =>
  text(1_000_000).refine((typed) => {
    const read = parse(typed)
    if (typeof read !== 'object' || read === null || Array.isArray(read)) return false
    return Object.entries(read).every(
      ([name, value]) =>
        QUOTE_FIELDS.includes(name) && typeof value === 'string' && text(LENGTH_OF.lines).safeParse(value).success,
    )
  }, 'This is no quote: one text for each of its fields.')

/** Shown by templates alone, which escape it: so any JSON. */
const json = () => text(1_000_000).refine((typed) => parse(typed) !== undefined, 'This is no JSON.')

function parse(typed: string): unknown {
  try {
    return JSON.parse(typed)
  } catch (error) {
    if (error instanceof SyntaxError) return undefined
    throw error
  }
}

export const ALONE_FIELDS: Readonly<Record<Alone, readonly Field[]>> = {
  forecast: [
    to('piece', 'piece'),
    to('draftRevision', 'revision'),
    field('kind', oneOf(['remaining', 'whole'])),
    field('madeOn', day()),
    field('madeAt', instant()),
    ...['doneMinutes', 'lowMinutes', 'likelyMinutes', 'highMinutes'].map((key) => field(key, minutes())),
    field('stages', json()),
    field('base', text(LENGTH_OF.lines)),
    field('keptBy', oneOf(['button', 'quote'])),
    flag('demo'),
  ],
  quote: [
    to('piece', 'piece'),
    to('draftRevision', 'revision'),
    to('forecast', 'forecast'),
    field('entered', entered()),
    field('state', oneOf(QUOTE_STATES)),
    field('numberYear', number(1, 9999).nullable()),
    field('numberSerial', number(1, 1_000_000).nullable()),
    field('answeredOn', day().nullable()),
    flag('demo'),
    binned,
    ...kept,
  ],
  quote_terms: [field('entered', entered()), ...kept],
}

/** Of a quote: what was sent. */
export const VERSION_FIELDS: readonly Field[] = [
  field('number', number(1, 10_000)),
  field('sentOn', day()),
  field('sentAt', instant()),
  field('entered', entered()),
  field('paper', json()),
]

/** What each record must be beyond the shape of its fields; the database holds the same. */
export const ALONE_RULES: Readonly<Record<Alone, (record: ArchiveRecord) => string>> = {
  forecast: ({ piece, draftRevision, kind, lowMinutes, likelyMinutes, highMinutes }) => {
    if (piece === null && draftRevision === null) return 'it is about neither a piece nor a draft.'
    if (kind === 'remaining' && piece === null) return 'what is still to go is of a piece.'
    const [low, likely, high] = [lowMinutes, likelyMinutes, highMinutes].map(Number) as [number, number, number]
    return low <= likely && likely <= high ? '' : 'the ends of its range do not stand around its middle.'
  },
  quote: ({ state, numberYear, numberSerial, answeredOn, versions, deletedAt }) => {
    const numbers = (versions as readonly ArchiveRecord[]).map((version) => version.number)
    if (new Set(numbers).size < numbers.length) return 'two of its versions have the same number.'
    const isSent = numbers.length > 0
    if (isSent === (state === 'draft') || isSent !== (numberYear !== null) || isSent !== (numberSerial !== null))
      return 'a quote that was sent, and no other, has a number and a version.'
    if ((answeredOn === null) !== (state === 'draft' || state === 'sent'))
      return 'a quote that is answered, and no other, says when.'
    return isSent && deletedAt !== null ? 'a quote that was sent is in no bin.' : ''
  },
  quote_terms: () => '',
}

/**
 * Why a record of the owner's alone cannot come in; empty when it can.
 * @param isThere whether what it points at comes in with it or stands here
 */
export function aloneProblem(
  db: Db,
  kind: Alone,
  record: ArchiveRecord,
  isThere: (target: 'piece' | 'revision', uid: string) => boolean,
): string {
  const owner = currentMemberId()
  if (kind === 'quote_terms') {
    const rival = db.raw.prepare('select 1 from quote_terms where owner_id is ? and uid <> ?').get(owner, record.uid)
    return rival === undefined ? '' : 'you keep terms of your own here, and they stay'
  }
  if (kind === 'forecast') {
    const { piece, draftRevision } = record
    const isOfPiece = piece !== null && isThere('piece', String(piece))
    const isOfDraft = draftRevision !== null && isThere('revision', String(draftRevision))
    const isMissing = record.kind === 'remaining' ? !isOfPiece : !isOfPiece && !isOfDraft
    return isMissing ? 'what it foretells is neither in the archive nor here' : ''
  }
  if (record.numberSerial === null) return ''
  const rival = db.raw
    .prepare('select 1 from quote where owner_id is ? and number_year = ? and number_serial = ? and uid <> ?')
    .get(owner, Number(record.numberYear), Number(record.numberSerial), record.uid)
  return rival === undefined ? '' : 'another quote of yours has its number here'
}
