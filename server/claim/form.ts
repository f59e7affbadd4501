import { z } from 'zod'
import { BASES, STATES, type Basis, type State } from '../../shared/measure/claim-word.ts'
import type { Feature } from '../../shared/measure/feature.ts'
import { choice, day, line, lines, optionalId, readEntered, type Parsed, type Problems } from '../form.ts'
import type { ClaimValue } from './kind.ts'
import { readClaimValue, VALUE_FIELDS } from './value-form.ts'

/** A claim as it is read from the form, or as the demo collection writes it. Decimals are text with a point. */
export interface ClaimForm extends ClaimValue {
  readonly feature: string
  readonly part: string
  readonly state: State
  readonly basis: Basis
  /** Who saw, measured or inferred it. */
  readonly claimedBy: string
  readonly sourceId?: number | undefined
  readonly locator: string
  readonly claimedOn?: string | undefined
  readonly reason: string
  /** Whether it is to be the working claim, in place of the one that is. */
  readonly isWorking: boolean
}

const commonSchema = z.object({
  part: line(120),
  state: choice(
    STATES.map((word) => word.key),
    'Please choose the state it was in.',
  ),
  basis: choice(
    BASES.map((word) => word.key),
    'Please choose how it is known.',
  ),
  claimedBy: line(120),
  source: optionalId(),
  newSource: line(),
  locator: line(200),
  claimedOn: day(),
  reason: lines(4000),
  working: z.string(),
})

const NAMES = [...(Object.keys(commonSchema.shape) as (keyof typeof commonSchema.shape)[]), ...VALUE_FIELDS] as const
export type ClaimField = (typeof NAMES)[number]
export type ClaimEntered = Record<ClaimField, string>

/**
 * Reads a claim about a feature. Only the inputs of the chosen kind count; another kind's that is filled as well is a
 * contradiction, and said so, rather than dropped.
 * `newSource` is the title of a source that is not in the list yet; the caller adds it.
 * @param context whether a source is there, and whether the claim corrects another (then it needs its reason)
 */
export function readClaimForm(
  body: unknown,
  feature: Feature,
  context: { hasSource: (id: number) => boolean; isCorrection: boolean },
): Parsed<ClaimForm & { readonly newSource: string }, ClaimEntered> {
  const entered = readEntered(body, NAMES)
  const problems: Problems<ClaimEntered> = {}
  const common = commonSchema.safeParse(entered)
  for (const issue of common.error?.issues ?? []) problems[issue.path[0] as ClaimField] ??= issue.message
  if (feature.perYarn && entered.part.trim() === '') problems.part = 'Please say which yarn, such as “madder warp”.'
  if (context.isCorrection && entered.reason.trim() === '')
    problems.reason = 'Please say why it is corrected; the earlier claim stays beside it.'
  if (common.data?.source !== undefined && !context.hasSource(common.data.source))
    problems.source = 'This source is not there any more; please choose from the list.'
  if (entered.source.trim() !== '' && entered.newSource.trim() !== '')
    problems.newSource = 'There is a source chosen above as well. Empty this, or choose none there.'
  const value = readClaimValue(entered, feature)
  Object.assign(problems, value.problems)
  if (!common.success || !value.value || Object.keys(problems).length > 0) return { ok: false, entered, problems }
  const { source, working, ...rest } = common.data
  return {
    ok: true,
    value: { ...rest, ...value.value, feature: feature.key, sourceId: source, isWorking: working !== '' },
  }
}
