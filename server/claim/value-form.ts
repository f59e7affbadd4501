import { isQuantity, type Feature } from '../../shared/measure/feature.ts'
import { readReadings, type ReadReadings } from '../../shared/measure/reading.ts'
import type { QuantityKind, Unit } from '../../shared/measure/unit.ts'
import { BLANKS } from '../../shared/measure/claim-word.ts'
import { choice, decimalText, lines, wholeNumber, type Problems } from '../form.ts'
import type { ClaimEntered } from './form.ts'
import { CLAIM_KIND_KEYS, CLAIM_KINDS, type ClaimKind, type ClaimValue } from './kind.ts'

export const VALUE_FIELDS = [
  ...(['kind', 'unit', 'value', 'u', 'n', 'low', 'high'] as const),
  ...(['readings', 'resolution', 'words', 'blank'] as const),
] as const

/** Which inputs belong to which kind. The unit is chosen beside all of them. */
export const KIND_FIELDS = {
  value: ['value', 'u', 'n'],
  range: ['low', 'high'],
  readings: ['readings', 'resolution'],
  text: ['words'],
  blank: ['blank'],
} as const satisfies Record<ClaimKind, readonly (typeof VALUE_FIELDS)[number][]>

/** The kinds that a feature may have: words cannot be counted, but a measured feature may be described. */
export function kindsOf(feature: Feature): readonly ClaimKind[] {
  return isQuantity(feature.kind) ? CLAIM_KIND_KEYS : ['text', 'blank']
}

type Entered = Pick<ClaimEntered, (typeof VALUE_FIELDS)[number]>

/** The part of a claim form that says what is claimed: the value, or a sentence beside each field. */
export function readClaimValue(
  entered: Entered,
  feature: Feature,
): { value: ClaimValue | undefined; problems: Problems<ClaimEntered> } {
  const kind = kindsOf(feature).find((each) => each === entered.kind)
  if (!kind) return { value: undefined, problems: { kind: 'Please choose what you want to state.' } }
  const problems: Problems<ClaimEntered> = { ...findContradictions(entered, kind) }
  const unit = feature.units.find((each) => each === entered.unit)
  // A description or a blank has no unit, whatever the list beside it says.
  const hasUnit = kind !== 'text' && kind !== 'blank'
  if (hasUnit && !unit) problems.unit = 'Please choose the unit.'
  const value: ClaimValue = {
    kind,
    unit: hasUnit && unit ? unit : '',
    ...READERS[kind](entered, feature, unit, problems),
  }
  return { value: Object.keys(problems).length === 0 ? value : undefined, problems }
}

function findContradictions(entered: Entered, kind: ClaimKind): Problems<ClaimEntered> {
  const problems: Problems<ClaimEntered> = {}
  for (const other of CLAIM_KIND_KEYS.filter((each) => each !== kind))
    for (const field of KIND_FIELDS[other])
      if (entered[field].trim() !== '')
        problems[field] =
          `You chose “${CLAIM_KINDS[kind]}”, but this is filled in too. Empty it, or choose “${CLAIM_KINDS[other]}”.`
  return problems
}

type Reader = (
  entered: Entered,
  feature: Feature,
  unit: Unit | undefined,
  problems: Problems<ClaimEntered>,
) => Omit<ClaimValue, 'kind' | 'unit'>

const READERS: Record<ClaimKind, Reader> = {
  value(entered, feature, _unit, problems) {
    const value = decimal('value', entered, problems, measureProblem(feature))
    if (value === undefined && !problems.value) problems.value = 'Please give the value.'
    const u = decimal('u', entered, problems, (number) => (number < 0 ? 'An uncertainty is not negative.' : ''))
    const n = read('n', entered, problems, wholeNumber(1, 1_000_000))
    return { value, u, n }
  },
  range(entered, feature, _unit, problems) {
    const low = decimal('low', entered, problems, measureProblem(feature))
    const high = decimal('high', entered, problems, measureProblem(feature))
    if (low === undefined && high === undefined && !problems.low && !problems.high)
      problems.low = 'Please give both ends; one alone says “at least” or “at most”.'
    if (low !== undefined && high !== undefined && Number(low) >= Number(high))
      problems.high = 'The upper end is not above the lower one.'
    return { low, high }
  },
  readings(entered, feature, unit, problems) {
    const resolution = decimal('resolution', entered, problems, (number) =>
      number < 0 ? 'A resolution is not negative.' : '',
    )
    if (!unit || !isQuantity(feature.kind)) return {}
    const result = readReadings(entered.readings, { kind: feature.kind, unit })
    const problem = readingsProblem(result)
    if (problem) problems.readings = problem
    if (feature.kind === 'perCm' && resolution !== undefined && result.ok && result.readings.some((r) => !r.counted))
      problems.resolution =
        'The step of the ruler counts only where each reading is a count over a length, as in 72 in 9. Empty this, or give them so.'
    return { readings: entered.readings.trim(), resolution }
  },
  text(entered, _feature, _unit, problems) {
    const words = read('words', entered, problems, lines(4000)) ?? ''
    if (words === '' && !problems.words) problems.words = 'Please describe it.'
    return { words }
  },
  blank(entered, _feature, _unit, problems) {
    const keys = BLANKS.map((word) => word.key)
    return { blank: read('blank', entered, problems, choice(keys, 'Please choose which kind of blank it is.')) }
  },
}

/** Every problem with its place, so that it can be found among a hundred readings; the first five do. */
function readingsProblem(result: ReadReadings): string {
  if (result.ok) return result.readings.length === 0 ? 'Please give at least one reading.' : ''
  const shown = result.problems
    .slice(0, 5)
    .map((p) => `Line ${p.line}, column ${p.column}, “${p.word.slice(0, 40)}”: ${p.message}`)
  const more = result.problems.length - shown.length
  return shown.join(' ') + (more > 0 ? ` And ${more} more.` : '')
}

const ZERO = 'Zero cannot be compared; if there is nothing, choose a blank.'

const RULES: Record<QuantityKind, (value: number) => string> = {
  length: (value) => (value === 0 ? ZERO : ''),
  perCm: (value) => (value === 0 ? ZERO : ''),
  count: (value) => (Number.isInteger(value) ? '' : 'A count is a whole number; an average goes in as readings.'),
  angle: (value) => (value > 90 ? 'A twist angle is from 0 to 90 degrees.' : ''),
}

function measureProblem({ kind }: Feature): (value: number) => string {
  return (value) => (value < 0 ? 'This is not negative.' : isQuantity(kind) ? RULES[kind](value) : '')
}

interface Schema<T> {
  safeParse(text: string): { success: true; data: T } | { success: false; error: { issues: { message: string }[] } }
}

function read<T>(
  name: keyof Entered,
  entered: Entered,
  problems: Problems<ClaimEntered>,
  schema: Schema<T>,
): T | undefined {
  const result = schema.safeParse(entered[name])
  if (result.success) return result.data
  problems[name] ??= result.error.issues[0]?.message ?? 'Please look again.'
  return undefined
}

function decimal(
  name: keyof Entered,
  entered: Entered,
  problems: Problems<ClaimEntered>,
  check: (value: number) => string,
): string | undefined {
  const text = read(name, entered, problems, decimalText())
  const problem = text === undefined ? '' : check(Number(text))
  if (problem) problems[name] ??= problem
  return text
}
