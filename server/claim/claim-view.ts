import { BASES, labelOf, STATES } from '../../shared/measure/claim-word.ts'
import type { Feature } from '../../shared/measure/feature.ts'
import { hiddenName } from '../rights/allowed.ts'
import { figureLine, figureOf, type Figure } from './figure.ts'
import type { Claim } from './queries.ts'

/** One claim as the subject's page, and its own, show it. Empty text where there is nothing to say. */
export interface ClaimView extends Figure {
  readonly id: number
  /** The figure on one line, for the text of links. */
  readonly line: string
  readonly isWorking: boolean
  readonly workingReason: string
  /** "as preserved, read in a publication" */
  readonly context: string
  readonly by: string
  readonly day: string
  readonly sourcePath: string
  readonly sourceText: string
  readonly locator: string
  /** A publication or photograph is spoken of, but not named. */
  readonly lacksSource: boolean
  readonly reason: string
  /** As typed, where they are readings. */
  readonly readings: string
  readonly corrects: string
  readonly correctsPath: string
  readonly correctedBy: readonly { readonly path: string; readonly text: string }[]
  readonly withdrawnOn: string
  readonly withdrawnReason: string
  /** What its page is opened for. */
  readonly open: string
}

/**
 * @param all the claims of the same subject, among them those that this one corrects or is corrected by
 * @param mayEdit whether the viewer may change the subject
 */
export function toClaimView(claim: Claim, feature: Feature, all: readonly Claim[], mayEdit: boolean): ClaimView {
  const corrected = all.find((other) => other.id === claim.correctsId)
  const { source, basis, locator, isSourceHidden } = claim
  return {
    ...figureOf(claim, feature),
    id: claim.id,
    line: figureLine(claim, feature),
    isWorking: claim.isWorking,
    workingReason: claim.isWorking ? claim.workingReason : '',
    context: contextOf(claim),
    by: claim.claimedBy,
    day: claim.claimedOn ?? '',
    sourcePath: source ? `/sources/${source.id}` : '',
    sourceText: source ? sourceName(source) : isSourceHidden ? hiddenName('source') : '',
    locator,
    lacksSource: (basis === 'read' || basis === 'photograph') && !source && !isSourceHidden && locator === '',
    reason: claim.reason,
    readings: claim.readings ?? '',
    corrects: corrected ? withState(corrected, feature) : '',
    correctsPath: corrected ? `/claims/${corrected.id}` : '',
    correctedBy: all
      .filter((other) => other.correctsId === claim.id)
      .map((other) => ({ path: `/claims/${other.id}`, text: withState(other, feature) })),
    withdrawnOn: claim.withdrawnOn ?? '',
    withdrawnReason: claim.withdrawnReason,
    open: mayEdit && claim.withdrawnOn === null ? (claim.isWorking ? OPEN_WORKING : OPEN_RIVAL) : 'Open',
  }
}

const OPEN_WORKING = 'Correct or withdraw'
const OPEN_RIVAL = 'Make working, correct or withdraw'

/** "13.0 mm as preserved": two claims often differ by nothing but the state. */
const withState = (claim: Claim, feature: Feature) =>
  `${figureLine(claim, feature)}${claim.kind === 'blank' ? ',' : ''} ${labelOf(STATES, claim.state)}`

const contextOf = (claim: Claim) => `${labelOf(STATES, claim.state)}, ${labelOf(BASES, claim.basis)}`

/** People and year, as one cites; a source without people by its title. */
export function sourceName({ people, year, title }: NonNullable<Claim['source']>): string {
  return [people || title, year].filter(Boolean).join(' ')
}
