/** What is chosen from a list in a plan, the first one being the usual. */
export const PLAN_CHOICES = {
  wovenBy: ['length', 'repeats'],
  takeUpBy: ['geometry', 'settled', 'typed'],
  takeUpOf: ['woven', 'warp'],
  weftPasses: ['1', '2'],
  winder: ['none', 'turn', 'arms'],
  borders: ['asDrafted', 'reverse', 'untwist', 'swivels', 'flip'],
} as const

export type PlanChoice = keyof typeof PLAN_CHOICES
/** The lines of a plan, as they are typed: lengths in cm, the width in mm, shares in percent. */
export type PlanLine =
  | 'wovenCm'
  | 'repeats'
  | 'picksPerCm'
  | 'widthMm'
  | 'takeUpPercent'
  | 'wasteCm'
  | 'sampleCm'
  | 'fringeCm'
  | 'shrinkPercent'
  | 'weftStrands'
  | 'weftAllowance'
  | 'winderTurnCm'
  | 'winderArms'
  | 'winderSpacingCm'
  | 'fibre'
  | 'spun'
  | 'twistLimit'
  | 'blockPicks'
  | 'reversals'
  | 'woundCm'
  | 'leftCm'
  | 'measuredCm'
  | 'stoppedPick'
export type PlanField = PlanChoice | PlanLine

/** Everything that is typed in a plan, the fields of its yarns too: see `yarnFields`. */
export type PlanEntered = Readonly<Record<PlanField, string>> & Readonly<Record<string, string>>

/** A plan that nobody has begun: what stands in its form. The allowances are common practice, no source. */
export const BLANK_PLAN: Readonly<Record<PlanField, string>> = {
  ...{ wovenBy: 'length', wovenCm: '', repeats: '', picksPerCm: '', widthMm: '' },
  ...{ takeUpBy: 'geometry', takeUpPercent: '', takeUpOf: 'woven' },
  ...{ wasteCm: '60', sampleCm: '10', fringeCm: '20', shrinkPercent: '' },
  ...{ weftStrands: '1', weftPasses: '1', weftAllowance: '10' },
  ...{ winder: 'none', winderTurnCm: '', winderArms: '', winderSpacingCm: '' },
  ...{ fibre: 'wool', spun: 'worsted', twistLimit: '', blockPicks: '', borders: 'asDrafted', reversals: '' },
  ...{ woundCm: '', leftCm: '', measuredCm: '', stoppedPick: '' },
}

export const PLAN_FIELDS = Object.keys(BLANK_PLAN) as PlanField[]

/** The warp of one colour key, or the weft. */
export type YarnPart = { readonly part: 'warp'; readonly key: string } | { readonly part: 'weft' }

/**
 * The two fields of a yarn: which one is chosen, and its count where none is.
 * @example yarnFields({ part: 'warp', key: 'm' }) // { chosen: 'warp-m', count: 'warp-m-count' }
 */
export function yarnFields(part: YarnPart): { chosen: string; count: string } {
  const chosen = part.part === 'weft' ? 'weft' : `warp-${part.key}`
  return { chosen, count: `${chosen}-count` }
}

/**
 * The parts of a band that take a yarn: the warp of each colour that is threaded, in the order of the tablets, and the weft.
 * @example two colours: [{ part: 'warp', key: 'm' }, { part: 'warp', key: 'w' }, { part: 'weft' }]
 */
export function yarnParts(tablets: readonly { readonly holes: readonly (string | null)[] }[]): YarnPart[] {
  const keys = new Set(tablets.flatMap(({ holes }) => holes).filter((key) => key !== null))
  return [...[...keys].map((key): YarnPart => ({ part: 'warp', key })), { part: 'weft' }]
}
