import { z } from 'zod'
import type { Json } from '../../shared/archive/canonical.ts'
import { OWN_FEATURE_KIND_KEYS } from '../claim/feature-form.ts'
import { CHILDREN, FIELDS, KINDS, type ArchiveRecord, type Children, type Field, type Kind } from './record.ts'
import { ALONE } from './quote-field.ts'
import { instant, text, uid } from './value.ts'

export const FORMAT = 'fellmark-archive'
export const VERSION = 1

/** The name of each list in the archive. */
export const LISTS: Readonly<Record<Kind, string>> = {
  ...{ source: 'sources', original: 'originals', draft: 'drafts', piece: 'pieces' },
  ...{ claim: 'claims', sitting: 'sittings', photo: 'photographs', observed: 'observedFaces' },
  ...{ yarn: 'yarns', lot: 'lots', movement: 'movements', plan: 'plans', loom_step: 'loomSteps' },
  fibre_density: 'fibreDensities',
  ...{ forecast: 'forecasts', quote: 'quotes', quote_terms: 'quoteTerms' },
  ...{ judgement: 'judgements', decision: 'decisions', weighting: 'weightings' },
}

export interface ArchiveFeature {
  readonly key: string
  readonly label: string
  readonly quantity: string
  readonly createdAt: string
}

/** What stands in `notebook.json`. */
export interface Notebook {
  readonly features: readonly ArchiveFeature[]
  readonly records: Readonly<Record<Kind, readonly ArchiveRecord[]>>
}

/** As it is written: one object, the lists by their names. */
export function toJson({ features, records }: Notebook): Json {
  const lists = KINDS.map((kind) => [LISTS[kind], records[kind]] as const)
  return {
    format: FORMAT,
    version: VERSION,
    features: features.map((each) => ({ ...each })),
    ...Object.fromEntries(lists),
  }
}

const shapeOf = (fields: readonly Field[]) => Object.fromEntries(fields.map(({ key, schema }) => [key, schema]))
const childSchema = ({ fields, most }: Children) =>
  z.array(z.strictObject({ uid: uid(), ...shapeOf(fields) })).max(most)

const recordSchema = (kind: Kind) => {
  const children = CHILDREN[kind]
  const nested = children ? { [children.key]: childSchema(children) } : {}
  return z.strictObject({ uid: uid(), ...shapeOf(FIELDS[kind]), ...nested })
}

const feature = z.strictObject({
  key: text(200).min(1),
  label: text(200).min(1),
  quantity: z.enum(OWN_FEATURE_KIND_KEYS),
  createdAt: instant(),
})

const MOST_RECORDS = 200_000
const MOST_PROBLEMS = 20
/** Archives from before there were any have no such list. */
const ADDED_LATER: readonly Kind[] = [
  ...(['observed', 'yarn', 'lot', 'movement', 'plan', 'loom_step', 'fibre_density'] as const),
  ...(['judgement', 'decision', 'weighting'] as const),
  ...ALONE,
]
/** As `z.array` would, but that it stops once there is enough to say: of 200,000 empty records it would find millions. */
const listOf = (record: z.ZodType) =>
  z
    .array(z.unknown())
    .max(MOST_RECORDS)
    .transform((items, context) => {
      const found: unknown[] = []
      let problems = 0
      for (const [at, item] of items.entries()) {
        const read = record.safeParse(item)
        if (read.success) found.push(read.data)
        else
          for (const issue of read.error.issues)
            context.addIssue({ code: 'custom', message: sayIssue(issue), path: [at, ...issue.path] })
        problems += read.error?.issues.length ?? 0
        if (problems >= MOST_PROBLEMS) break
      }
      return found
    })

const listSchema = (kind: Kind) => {
  const list = listOf(recordSchema(kind))
  return ADDED_LATER.includes(kind) ? list.default([]) : list
}
const schema = z.strictObject({
  format: z.literal(FORMAT),
  version: z.literal(VERSION),
  features: z.array(feature).max(10_000),
  ...Object.fromEntries(KINDS.map((kind) => [LISTS[kind], listSchema(kind)])),
})

export type ReadNotebook = { ok: true; notebook: Notebook } | { ok: false; problems: readonly string[] }

/** Reads what `JSON.parse` made of `notebook.json`; each problem begins with its place: `claims[3].unit: …`. */
export function readNotebook(input: unknown): ReadNotebook {
  const head = input as { format?: unknown; version?: unknown } | null
  if (typeof head !== 'object' || head?.format !== FORMAT)
    return { ok: false, problems: ['format: this is no archive of Fellmark.'] }
  if (typeof head.version === 'number' && head.version > VERSION)
    return {
      ok: false,
      problems: [`version: a newer Fellmark wrote this archive (version ${head.version}); this one reads ${VERSION}.`],
    }
  const read = schema.safeParse(input)
  if (!read.success) {
    const issues = read.error.issues.slice(0, MOST_PROBLEMS)
    return { ok: false, problems: issues.map((issue) => `${pathText(issue.path)}: ${sayIssue(issue)}`) }
  }
  const data = read.data as unknown as Record<string, readonly ArchiveRecord[]>
  const records = Object.fromEntries(KINDS.map((kind) => [kind, data[LISTS[kind]]!])) as unknown as Notebook['records']
  return { ok: true, notebook: { features: data.features as unknown as ArchiveFeature[], records } }
}

const pathText = (path: readonly PropertyKey[]) =>
  path.reduce<string>(
    (all, step) => all + (typeof step === 'number' ? `[${step}]` : `${all && '.'}${String(step)}`),
    '',
  )

function sayIssue(issue: z.core.$ZodIssue): string {
  if (issue.code === 'unrecognized_keys')
    return `there is a field that no archive has: ${issue.keys.map((key) => key.slice(0, 40)).join(', ')}.`
  return issue.message
}
