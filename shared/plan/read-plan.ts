import { type Density, findDensity, toDensity } from '../yarn/density.ts'
import { PACKING_RANGES, type PackingKind, type PackingRange } from '../yarn/diameter-range.ts'
import type { TakeUp } from '../yarn/take-up.ts'
import { readCount } from '../yarn/written-count.ts'
import { PLAN_CHOICES, type PlanChoice, type PlanEntered, type PlanLine, yarnFields, yarnParts } from './entry.ts'
import type { PlanFacts } from './facts.ts'

/** The yarn of one colour or of the weft, as far as it is known. */
export interface PlanYarn {
  /** `lot-3`, or the count as typed; empty where no yarn is named. */
  readonly value: string
  readonly label: string
  readonly tex: number | null
  readonly density: Density | null
  /** Diameter as measured, in mm. */
  readonly measuredMm: number | null
  readonly freeG: number | null
  /** How its tex is known, a sentence. */
  readonly from: string
}

/** A plan as it was typed, in mm; null where nothing is said, or what is said cannot be used. */
export interface PlanWants {
  readonly wovenBy: 'length' | 'repeats'
  readonly wovenMm: number | null
  readonly repeats: number | null
  readonly picksPerCm: number | null
  readonly widthMm: number | null
  readonly takeUpBy: (typeof PLAN_CHOICES)['takeUpBy'][number]
  readonly takeUp: TakeUp | null
  readonly wasteMm: number
  readonly sampleMm: number
  readonly fringeMm: number
  readonly shrinkPercent: number
  readonly weftStrands: number
  readonly weftPasses: number
  readonly weftAllowance: number
  readonly winder: 'none' | 'turn' | 'arms'
  readonly winderTurnMm: number | null
  readonly winderArms: number | null
  readonly winderSpacingMm: number | null
  readonly fibre: string
  /** Of that fibre: for every yarn whose own is not known. */
  readonly density: Density
  readonly spun: PackingKind
  readonly packing: PackingRange
  readonly twistLimit: number | null
  readonly blockPicks: number | null
  readonly borders: (typeof PLAN_CHOICES)['borders'][number]
  /** Rising. */
  readonly reversals: readonly number[]
  readonly warp: Readonly<Record<string, PlanYarn>>
  readonly weft: PlanYarn
  readonly woundMm: number | null
  readonly leftMm: number | null
  readonly measuredMm: number | null
  readonly stoppedPick: number | null
}

export interface ReadPlan {
  /** What can be used; a field with a problem counts as empty. */
  readonly wants: PlanWants
  /** A sentence beside each field that cannot be used. */
  readonly problems: Readonly<Record<string, string>>
}

const DECIMAL = /^\d{1,7}(?:[.,]\d{1,6})?$/
const WHOLE = /^\d{1,7}$/

/**
 * Reads a plan as it was typed, in the form of the page; browser and server read it alike.
 * @param entered every field of `PLAN_FIELDS` and of the yarns; a missing one is empty
 * @param facts for its colours, the yarns that may be chosen, and the densities of fibres
 * @returns what can be used, and a sentence for each field that cannot; nothing is refused as a whole
 * @example readPlan({ ...BLANK_PLAN, wovenCm: '150,5' }, facts).wants.wovenMm // 1505
 * @example readPlan({ ...BLANK_PLAN, wovenCm: 'long' }, facts).problems.wovenCm // 'Please type a number …'
 */
export function readPlan(entered: PlanEntered, facts: Pick<PlanFacts, 'draft' | 'yarns' | 'densities'>): ReadPlan {
  const problems: Record<string, string> = {}
  const typed = (name: string) => (entered[name] ?? '').trim()
  const decimal = (name: PlanLine, most: number, mayBeZero = false): number | null => {
    const text = typed(name)
    if (text === '') return null
    const value = Number(text.replace(',', '.'))
    if (!DECIMAL.test(text)) problems[name] = 'Please type a number, such as 13.5 or 13,5.'
    else if (value > most) problems[name] = `Please look at this again: at most ${most}.`
    else if (value === 0 && !mayBeZero) problems[name] = 'This is more than zero; leave it empty where it is not known.'
    return problems[name] === undefined ? value : null
  }
  const whole = (name: PlanLine, least: number, most: number): number | null => {
    const text = typed(name)
    if (text === '') return null
    const isGood = WHOLE.test(text) && Number(text) >= least && Number(text) <= most
    if (!isGood) problems[name] = `Please type a whole number from ${least} to ${most}.`
    return isGood ? Number(text) : null
  }
  const chosen = <C extends PlanChoice>(name: C): (typeof PLAN_CHOICES)[C][number] => {
    const options: readonly string[] = PLAN_CHOICES[name]
    if (!options.includes(typed(name)) && typed(name) !== '') problems[name] = 'Please choose from the list.'
    return (options.includes(typed(name)) ? typed(name) : options[0]!) as (typeof PLAN_CHOICES)[C][number]
  }
  const cm = (name: PlanLine, mayBeZero = false) => {
    const value = decimal(name, 100_000, mayBeZero)
    return value === null ? null : value * 10
  }
  const listed = <T extends string>(name: PlanLine, options: readonly T[]): T => {
    const found = options.find((option) => option === typed(name))
    if (found === undefined && typed(name) !== '') problems[name] = 'Please choose from the list.'
    return found ?? options[0]!
  }
  const takeUpBy = chosen('takeUpBy')
  const takeUpOf = chosen('takeUpOf')
  const percent = decimal('takeUpPercent', 1000, true)
  if (percent !== null && takeUpOf === 'warp' && percent >= 100)
    problems.takeUpPercent = 'A take-up of the warp is below 100 %.'
  if (takeUpBy === 'typed' && percent === null)
    problems.takeUpPercent ??= 'Please give the take-up, or let it be worked out.'
  const spun = listed('spun', Object.keys(PACKING_RANGES) as PackingKind[])
  const { densities } = facts
  const fibre = listed(
    'fibre',
    densities.map((one) => one.fibre),
  )
  const borders = chosen('borders')
  const reversals = readReversals(typed('reversals'))
  if (typeof reversals === 'string') problems.reversals = reversals
  const yarnOf = (part: ReturnType<typeof yarnParts>[number]) => readYarn(part, typed, facts, problems)
  const parts = yarnParts(facts.draft.tablets)
  const wants: PlanWants = {
    wovenBy: chosen('wovenBy'),
    wovenMm: cm('wovenCm'),
    repeats: decimal('repeats', 100_000),
    picksPerCm: decimal('picksPerCm', 200),
    widthMm: decimal('widthMm', 10_000),
    takeUpBy,
    takeUp: percent === null || problems.takeUpPercent !== undefined ? null : { percent, of: takeUpOf },
    wasteMm: cm('wasteCm', true) ?? 0,
    sampleMm: cm('sampleCm', true) ?? 0,
    fringeMm: cm('fringeCm', true) ?? 0,
    shrinkPercent: decimal('shrinkPercent', 90, true) ?? 0,
    weftStrands: whole('weftStrands', 1, 20) ?? 1,
    weftPasses: Number(chosen('weftPasses')),
    weftAllowance: decimal('weftAllowance', 500, true) ?? 0,
    winder: chosen('winder'),
    winderTurnMm: cm('winderTurnCm'),
    winderArms: whole('winderArms', 2, 100),
    winderSpacingMm: cm('winderSpacingCm'),
    fibre,
    density: toDensity(findDensity(densities, fibre)!),
    spun,
    packing: PACKING_RANGES[spun],
    twistLimit: decimal('twistLimit', 10_000),
    blockPicks: whole('blockPicks', 1, 20_000),
    borders,
    reversals: typeof reversals === 'string' ? [] : reversals,
    warp: Object.fromEntries(parts.flatMap((part) => (part.part === 'warp' ? [[part.key, yarnOf(part)]] : []))),
    weft: yarnOf({ part: 'weft' }),
    woundMm: cm('woundCm'),
    leftMm: cm('leftCm', true),
    measuredMm: cm('measuredCm'),
    stoppedPick: whole('stoppedPick', 1, 1_000_000),
  }
  lookOver(wants, problems)
  return { wants, problems }
}

/** What each field says by itself is good; together they may still not be. */
function lookOver(wants: PlanWants, problems: Record<string, string>): void {
  if (wants.winder === 'turn' && wants.winderTurnMm === null)
    problems.winderTurnCm ??= 'Please give what one turn of the winder takes.'
  if (wants.winder === 'arms' && wants.winderArms === null)
    problems.winderArms ??= 'Please give how many arms the winder has.'
  if (wants.winder === 'arms' && wants.winderSpacingMm === null)
    problems.winderSpacingCm ??= 'Please give how far it is from arm to arm.'
  const { woundMm, leftMm, measuredMm } = wants
  if (woundMm !== null && leftMm !== null && measuredMm !== null && woundMm - leftMm < measuredMm)
    problems.leftCm ??= 'What was wound, less what was left, is shorter than the band: one of the three is wrong.'
}

function readReversals(text: string): number[] | string {
  if (text === '') return []
  const words = text.split(/[\s,;]+/).filter((word) => word !== '')
  if (words.some((word) => !WHOLE.test(word) || Number(word) < 1))
    return 'Please type numbers of picks, such as 96, 192.'
  const picks = words.map(Number)
  if (picks.some((pick, at) => at > 0 && pick <= picks[at - 1]!))
    return 'Please type the picks in rising order, each once.'
  return picks.length > 2000 ? 'At most 2000 reversals fit.' : picks
}

const NO_YARN: PlanYarn = { value: '', label: '', tex: null, density: null, measuredMm: null, freeG: null, from: '' }

function readYarn(
  part: ReturnType<typeof yarnParts>[number],
  typed: (name: string) => string,
  facts: Pick<PlanFacts, 'yarns'>,
  problems: Record<string, string>,
): PlanYarn {
  const fields = yarnFields(part)
  const value = typed(fields.chosen)
  const count = typed(fields.count)
  if (value !== '') {
    const choice = facts.yarns.find((one) => one.value === value)
    if (choice) return { ...choice, from: `${choice.label}, from the yarn store` }
    problems[fields.chosen] = 'This yarn is not on the shelf any more, or not shared with you; please choose again.'
    return NO_YARN
  }
  if (count === '') return NO_YARN
  const read = readCount(count)
  if (!read.ok) {
    problems[fields.count] = 'question' in read ? read.question : read.message
    return NO_YARN
  }
  const { resultantTex: tex, sentence } = read.reading
  return { ...NO_YARN, value: count, label: count, tex, from: sentence }
}
