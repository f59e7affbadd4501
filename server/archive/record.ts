import { z } from 'zod'
import type { Json } from '../../shared/archive/canonical.ts'
import { MOST_COLOURS } from '../../shared/draft/document-shape.ts'
import { BASES, BLANKS, STATES } from '../../shared/measure/claim-word.ts'
import { PLAN_FIELDS } from '../../shared/plan/entry.ts'
import { UNITS } from '../../shared/measure/unit.ts'
import { STAGES } from '../../shared/work/stage.ts'
import { CLAIM_KIND_KEYS } from '../claim/kind.ts'
import { binned, days, field, flag, kept, oneOf, owned, texts, to, type Field } from './field.ts'
import { FIDELITY_FIELDS } from './fidelity-field.ts'
import { LENGTH_OF } from './length.ts'
import { LOOM_STEP_FIELDS } from './loom-field.ts'
import { COUNT_SYSTEM_KEYS } from '../piece/yarn-form.ts'
import { ORIGINS } from '../sitting/origin.ts'
import { SOURCE_KIND_KEYS } from '../source/form.ts'
import { otherCsl } from './csl-value.ts'
import { observedCells, observedColours, observedDiffering, observedMarks } from './observed-value.ts'
import {
  convention,
  date,
  dating,
  day,
  decimal,
  document,
  instant,
  number,
  text,
  uid,
  webAddress,
  zone,
} from './value.ts'
import { ALONE_FIELDS, VERSION_FIELDS } from './quote-field.ts'
import { YARN_FIELDS } from './yarn-field.ts'

export type { Field } from './field.ts'

/** The sorts of records, in the order in which they can be written: what is pointed at comes first. */
export const KINDS = [
  'source',
  'original',
  'draft',
  'yarn',
  'lot',
  'piece',
  'claim',
  'sitting',
  'photo',
  'observed',
  'movement',
  'plan',
  'loom_step',
  'fibre_density',
  'forecast',
  'quote',
  'quote_terms',
  'judgement',
  'decision',
  'weighting',
] as const
export type Kind = (typeof KINDS)[number]

/** What a record may point at. */
export type Target = Kind | 'revision'

export interface ArchiveRecord {
  readonly uid: string
  readonly [key: string]: Json
}

const { line, lines, note } = LENGTH_OF

export const FIELDS: Readonly<Record<Kind, readonly Field[]>> = {
  source: [
    ...texts(['title', 'people', 'container'], line),
    ...texts(['year', 'pages', 'doi', 'isbn'], line),
    // Archives from before know none of these.
    ...['editors', 'volume', 'issue', 'publisher', 'place', 'edition', 'issn', 'accessedOn', 'citeKey'].map((key) =>
      field(key, text(line).default('')),
    ),
    field('otherCsl', otherCsl().default('')),
    field('kind', oneOf(SOURCE_KIND_KEYS)),
    field('url', webAddress()),
    field('notes', text(note)),
    ...owned,
  ],
  original: [
    ...texts(['name', 'holder', 'inventoryNumber', 'findPlace', 'findContext', 'technique'], line),
    ...texts(['otherNames', 'preservation'], lines),
    field('dateEdtf', dating()),
    field('notes', text(note)),
    ...owned,
  ],
  draft: [
    field('title', text(line)),
    field('notes', text(note)),
    to('original', 'original'),
    // Archives from before know neither; an empty one says that nobody has filled in the card.
    field('convention', convention().default('')),
    field('conventionNote', text(lines).default('')),
    ...owned,
  ],
  piece: [
    ...texts(['name', 'maker'], line),
    field('forWhom', text(line).nullable()),
    to('original', 'original'),
    to('draftRevision', 'revision'),
    ...days(['plannedOn', 'onLoomOn', 'wovenOn', 'finishedOn', 'setAsideOn']),
    field('setAsideReason', text(lines)),
    ...texts(['notes', 'wentWrong'], note),
    ...owned,
  ],
  claim: [
    to('original', 'original'),
    to('piece', 'piece'),
    field('feature', text(200).min(1)),
    field('part', text(line)),
    field('kind', oneOf(CLAIM_KIND_KEYS)),
    ...['value', 'low', 'high', 'u', 'resolution'].map((key) => field(key, decimal().nullable())),
    ...['words', 'readings'].map((key) => field(key, text(note).nullable())),
    field('blank', oneOf(BLANKS.map((word) => word.key)).nullable()),
    field('unit', oneOf(['', ...Object.keys(UNITS)])),
    field('n', number(1, 1_000_000_000).nullable()),
    field('state', oneOf(STATES.map((word) => word.key))),
    field('basis', oneOf(BASES.map((word) => word.key))),
    ...texts(['claimedBy', 'locator'], line),
    to('source', 'source'),
    field('claimedOn', day().nullable()),
    ...texts(['reason', 'workingReason', 'withdrawnReason'], lines),
    to('corrects', 'claim'),
    flag('working'),
    field('withdrawnOn', day().nullable()),
    field('createdAt', instant()),
  ],
  sitting: [
    to('piece', 'piece'),
    field('maker', text(line)),
    field('stage', oneOf(STAGES)),
    field('zone', zone()),
    field('day', day()),
    field('startedAt', instant().nullable()),
    field('endedAt', instant().nullable()),
    field('minutes', number(0, 100_000_000)),
    field('breakMinutes', number(0, 100_000_000)),
    field('picks', number(0, 1_000_000_000).nullable()),
    field('repeats', decimal(true).nullable(), { form: 'decimal' }),
    field('lengthMm', decimal(true).nullable(), { form: 'decimal' }),
    field('note', text(note)),
    // Archives from before know only what was typed.
    field('origin', oneOf(ORIGINS).default('hand')),
    ...['stepsFrom', 'stepsTo', 'saidStartedAt', 'saidEndedAt'].map((key) =>
      field(key, instant().nullable().default(null)),
    ),
    field('saidStage', oneOf(STAGES).nullable().default(null)),
    field('saidBreakMinutes', number(0, 100_000_000).nullable().default(null)),
    field('saidPicks', number(0, 1_000_000_000).nullable().default(null)),
    binned,
    ...kept,
  ],
  photo: [
    to('original', 'original'),
    to('piece', 'piece'),
    ...texts(['part', 'caption', 'credit', 'licence'], line),
    field('takenOn', date().nullable()),
    field('sha256', z.string().regex(/^[0-9a-f]{64}$/, 'This is no SHA-256.')),
    field('width', number(1, 100_000)),
    field('height', number(1, 100_000)),
    binned,
    ...kept,
  ],
  observed: [
    to('original', 'original'),
    to('piece', 'piece'),
    to('photo', 'photo'),
    field('colours', observedColours()),
    field('cells', observedCells()),
    field('marks', observedMarks()),
    field('observedOn', day().nullable()),
    field('observedBy', text(line)),
    field('note', text(lines)),
    to('draftRevision', 'revision'),
    field('shift', number(0, 100_000).nullable()),
    field('differing', observedDiffering()),
    binned,
    ...kept,
  ],
  ...YARN_FIELDS,
  ...ALONE_FIELDS,
  plan: [to('piece', 'piece'), ...texts(PLAN_FIELDS, lines), ...kept],
  loom_step: LOOM_STEP_FIELDS,
  ...FIDELITY_FIELDS,
}

/** What is kept with a record and has no life without it, in its order. */
export interface Children {
  readonly key: string
  readonly table: 'draft_revision' | 'piece_yarn' | 'plan_yarn' | 'quote_version'
  readonly parent: string
  readonly order: string
  readonly fields: readonly Field[]
  readonly most: number
}

export const CHILDREN: Readonly<Partial<Record<Kind, Children>>> = {
  draft: {
    ...{ key: 'revisions', table: 'draft_revision', parent: 'draft_id', order: 'number', most: 10_000 },
    fields: [
      field('number', number(1, 1_000_000)),
      field('note', text(note)),
      field('document', document()),
      field('createdAt', instant()),
    ],
  },
  piece: {
    ...{ key: 'yarns', table: 'piece_yarn', parent: 'piece_id', order: 'position, uid', most: 200 },
    fields: [
      field('position', number(0, 1_000_000)),
      ...texts(['role', 'yarn'], line),
      field('count', decimal(true).nullable()),
      field('countSystem', oneOf(COUNT_SYSTEM_KEYS)),
      field('ply', number(1, 1000)),
      field('colourKey', text(8)),
      // Archives from before there were lots name none.
      { ...field('lot', uid().nullable().default(null), { column: 'lot_id' }), ref: 'lot' },
    ],
  },
  plan: {
    ...{ key: 'yarns', table: 'plan_yarn', parent: 'plan_id', order: 'position, uid', most: MOST_COLOURS + 1 },
    fields: [
      field('position', number(0, 1_000_000)),
      field('part', oneOf(['warp', 'weft'])),
      field('colourKey', text(8)),
      to('lot', 'lot'),
      to('yarn', 'yarn'),
      field('count', text(line)),
    ],
  },
  quote: {
    ...{ key: 'versions', table: 'quote_version', parent: 'quote_id', order: 'number', most: 10_000 },
    fields: VERSION_FIELDS,
  },
}
