import type { ArchiveRecord, Kind } from './record.ts'

const MARK = ' (from the archive)'

/** Which text says that a record came in beside the one that was here, and how long it may be in its form. */
const MARKED: Readonly<Record<Kind, { field: string; most: number } | undefined>> = {
  source: { field: 'title', most: 300 },
  original: { field: 'name', most: 300 },
  draft: { field: 'title', most: 300 },
  piece: { field: 'name', most: 300 },
  claim: { field: 'reason', most: 2000 },
  sitting: { field: 'note', most: 10_000 },
  photo: { field: 'caption', most: 300 },
  observed: { field: 'note', most: 2000 },
  yarn: { field: 'name', most: 300 },
  lot: { field: 'colourName', most: 120 },
  movement: undefined,
  // It goes with a copy of its piece alone, and has no words of its own.
  plan: undefined,
  // A step at the loom never changes.
  loom_step: undefined,
  // A maker keeps one a fibre, so none comes in beside another.
  fibre_density: undefined,
  // A forecast never changes, a quote has its number once, and a maker has one set of terms.
  ...{ forecast: undefined, quote: undefined, quote_terms: undefined },
  judgement: { field: 'reason', most: 2000 },
  decision: { field: 'decided', most: 4000 },
  weighting: { field: 'name', most: 300 },
}

/** A record that is kept beside the one with the same uid: its name says where it comes from. */
export function asCopy(kind: Kind, record: ArchiveRecord): ArchiveRecord {
  const marked = MARKED[kind]
  if (!marked) return record
  const { field, most } = marked
  const room = [...String(record[field] ?? '')].slice(0, most - MARK.length).join('')
  return { ...record, [field]: `${room}${MARK}`.trimStart() }
}
