import type { Draft } from '../draft/draft.ts'
import { sayCount, sayListed, sayNumbers } from '../draft/number-words.ts'
import { twistChart } from '../draft/picture/twist-chart.ts'
import { bareAfter } from '../draft/twist-forecast.ts'
import type { PlanFacts } from './facts.ts'
import type { PlanWants } from './read-plan.ts'
import { sayCm, sayLearned, sayNumber, sayPerM, shown, type Shown, type ShownRow } from './say.ts'
import type { PlanFigures } from './work-out.ts'
import { countedReversals, type TwistFigures, USUAL_LIMIT_PER_M } from './work-out-twist.ts'

export interface TwistSheet {
  /** By tablets that carry alike. */
  readonly twist: readonly ShownRow[]
  /** The table behind the chart. */
  readonly twistPicks: readonly ShownRow[]
  /** What can be done about it, and what each costs. */
  readonly ways: readonly ShownRow[]
  /** `96, 192`: what the button puts into the field; empty where nothing is proposed. */
  readonly proposed: string
  /** One `<svg>`; empty where nothing can be drawn. */
  readonly chart: string
}

const ROWS_BEHIND_CHART = 12

export function twistSheet(
  wants: PlanWants,
  facts: PlanFacts,
  { twist, picks, turning }: PlanFigures,
): TwistSheet & { says: { twist: string; limit: string; proposal: string } } {
  const { draft } = facts
  if (!twist) {
    const why = picks
      ? `This band has more turns (${sayNumber(picks * turning.tablets)}) than are reckoned at once.`
      : ''
    return {
      twist: [],
      twistPicks: [],
      ways: [],
      proposed: '',
      chart: '',
      says: { twist: why, limit: '', proposal: '' },
    }
  }
  const { forecast, limit, warp } = twist
  const reversals = countedReversals(wants, facts, twist.picks)
  return {
    twist: tabletRows(draft, twist),
    twistPicks: pickRows(twist),
    ways: wayRows(wants, twist),
    proposed: twist.proposal.ok ? twist.proposal.reversals.join(', ') : '',
    chart: twistChart({
      ...{ borderTurnsPerM: forecast.borderTurnsPerM, patternTurnsPerM: forecast.patternTurnsPerM },
      ...{ pickMm: warp.pickMm, limitPerM: limit.perM, reversals, isSplit: twist.borders > 0 },
    }),
    says: {
      twist: sayForecast(twist),
      limit: sayLimit(twist),
      proposal: [sayWritten(wants, facts), sayProposal(twist), sayPattern(draft, twist)].filter(Boolean).join(' '),
    },
  }
}

/** `Border tablets 1 to 3`, for a group of one part. */
export function sayTablets(draft: Draft, tablets: readonly number[]): string {
  const part = draft.tablets[tablets[0]! - 1]!.part === 'border' ? 'Border' : 'Pattern'
  return `${part} ${sayListed('tablet', tablets)}`
}

function tabletRows(draft: Draft, { forecast, warp }: TwistFigures): ShownRow[] {
  const groups = new Map<string, { net: number; over: number; tablets: number[] }>()
  for (const [at, net] of forecast.net.entries()) {
    const over = forecast.overAfter[at]!
    const key = `${draft.tablets[at]!.part} ${net} ${over}`
    const group = groups.get(key) ?? { net, over, tablets: [] }
    group.tablets.push(at + 1)
    groups.set(key, group)
  }
  const leftMm = bareAfter(warp, forecast.picks)
  return [...groups].map(([key, { net, over, tablets }]) => ({
    ...{ key, head: sayTablets(draft, tablets), hex: '' },
    cells: [
      shown(sayNet(net), `${net} quarter turns ÷ 4 after ${forecast.picks} picks, forward positive`),
      leftMm > 0
        ? shown(
            sayPerM(Math.abs(net) / 4 / (leftMm / 1000)),
            `${sayCount(Math.abs(net) / 4, 'turn')} ÷ ${sayCm(leftMm)} of bare warp left`,
          )
        : shown('–'),
      shown(over === 0 ? 'never' : `pick ${over}, ${sayCm(over * warp.pickMm)} woven`),
    ],
  }))
}

const sayNet = (net: number) =>
  net === 0 ? 'none' : `${sayCount(Math.abs(net) / 4, 'turn')} ${net > 0 ? 'forward' : 'back'}`

function pickRows({ forecast, warp, borders }: TwistFigures): ShownRow[] {
  if (forecast.picks === 0) return []
  const step = Math.max(1, Math.ceil(forecast.picks / ROWS_BEHIND_CHART))
  const picks = Array.from({ length: Math.floor(forecast.picks / step) }, (_, at) => (at + 1) * step)
  if (picks.at(-1) !== forecast.picks) picks.push(forecast.picks)
  const perM = (turns: Float64Array, pick: number): Shown => shown(sayPerM(turns[pick]!))
  return picks.map((pick) => ({
    ...{ key: String(pick), head: String(pick), hex: '' },
    cells: [
      shown(sayCm(pick * warp.pickMm)),
      shown(sayCm(bareAfter(warp, pick))),
      borders > 0 ? perM(forecast.borderTurnsPerM, pick) : shown('–'),
      perM(forecast.patternTurnsPerM, pick),
    ],
  }))
}

function sayForecast({ forecast, picks, limit, warp }: TwistFigures): string {
  const { over, outAt, weavablePicks, weavableMm } = forecast
  const out = outAt === null ? '' : ` The bare warp itself ends at pick ${outAt}.`
  if (over === null && outAt === null) {
    const most = forecast.turnsPerM.reduce((top, one) => Math.max(top, one), 0)
    return `All ${picks} picks stay within ${sayPerM(limit.perM)}: the most is ${sayPerM(most)}.`
  }
  if (over === null) return `The twist stays within ${sayPerM(limit.perM)}, but the warp does not last.${out}`
  const woven = `${sayCm(weavableMm)} of ${sayCm(picks * warp.pickMm)} can be woven, ${sayCount(weavablePicks, 'pick')}`
  return `${woven}: then ${sayListed('tablet', over.tablets)} would pass ${sayPerM(limit.perM)}.${out}`
}

function sayLimit({ limit: { perM, by, learned } }: TwistFigures): string {
  const own = learned ? `You stopped at ${sayPerM(learned.mean)} before (${sayLearned(learned)})` : ''
  if (by === 'typed')
    return `${sayPerM(perM)}, as typed. ${own ? `${own}.` : `No pick at which you stopped is on record (n = 0); ${USUAL_LIMIT_PER_M} per m would be taken.`}`
  if (by === 'learned') return `${own}, so that is taken.`
  return `${sayPerM(perM)}: common practice, no source. Note the pick at which the twist made you stop, and later plans go by that.`
}

function sayWritten({ reversals }: PlanWants, { writtenReversals }: PlanFacts): string {
  if (writtenReversals.length === 0) return ''
  const twice = reversals.some((pick) => writtenReversals.includes(pick)) ? ' They are not counted again.' : ''
  return `The draft was written out by a plan, and has its reversals in its turning: after ${sayListed('pick', writtenReversals)}.${twice}`
}

function sayProposal({ proposal, picks, blockPicks, limit }: TwistFigures): string {
  if (!proposal.ok) return proposal.message
  const { reversals, mostPerM } = proposal
  const most = `the borders then carry ${sayPerM(mostPerM)} at most`
  const edge = `Every edge of a block of ${sayCount(blockPicks, 'pick')} was tried, and no fewer reversals do.`
  if (proposal.picks < picks)
    return `No reversal at the edge of a block keeps the borders within ${sayPerM(limit.perM)} beyond pick ${proposal.picks} of ${picks}: take a smaller block, more loom waste, or another way.${reversals.length > 0 ? ` Until there: after ${sayListed('pick', reversals)}.` : ''}`
  if (reversals.length === 0) return `The borders need no reversal: they carry ${sayPerM(mostPerM)} at most.`
  return `Reverse the borders after ${sayListed('pick', reversals)}; ${most}. ${edge}`
}

/** Reversing borders leaves the pattern as it is; a pattern that is over the limit needs another way. */
function sayPattern({ tablets }: Draft, { asDrafted, limit }: TwistFigures): string {
  const over = [...asDrafted.overAfter].filter((pick, at) => pick > 0 && tablets[at]!.part === 'pattern')
  if (over.length === 0) return ''
  const first = over.reduce((least, pick) => Math.min(least, pick))
  return `Whatever the borders do, ${sayCount(over.length, 'pattern tablet')} pass ${sayPerM(limit.perM)} from pick ${first} on: let their twist out, or let the turning of the draft take it back.`
}

function wayRows({ borders }: PlanWants, twist: TwistFigures): ShownRow[] {
  const { proposal, relief, asDrafted, borders: count } = twist
  const twisted = asDrafted.net.filter((net) => net !== 0).length
  const times = proposal.ok ? proposal.reversals.length : 0
  const row = (key: PlanWants['borders'], head: string, ...cells: string[]): ShownRow => ({
    ...{ key, head: key === borders ? `${head} (chosen)` : head, hex: '' },
    cells: cells.map((text) => shown(text)),
  })
  const reverse = !proposal.ok
    ? 'not for this draft'
    : times === 0
      ? 'none needed'
      : `${sayCount(times, 'reversal')}, after ${sayNumbers(proposal.reversals, 6)}`
  const flips = !proposal.ok
    ? 'not for this draft'
    : times === 0
      ? 'none needed'
      : `${sayCount(times * count, 'tablet')} turned over, ${times} times ${count}`
  const stops =
    relief.stops.length === 0
      ? 'none needed'
      : `${sayCount(relief.stops.length, 'stop')}, ${sayCount(relief.turns, 'turn')} taken out by hand on ${sayCount(relief.tablets.length, 'tablet')}`
  return [
    row(
      'reverse',
      'Reverse the borders',
      reverse,
      'Each shows in the border as floats over three picks, and the slant changes from there on. The pattern tablets stay as drafted.',
    ),
    row(
      'flip',
      'Turn the border tablets over',
      flips,
      'The hands go on turning one way. It looks in the band as a reversal does.',
    ),
    row(
      'untwist',
      'Let the twist out when the warp is advanced',
      stops,
      'Nothing shows in the band. The far end has to be tied so that each tablet’s threads come loose by themselves, and the tension is set anew.',
    ),
    row(
      'swivels',
      'Swivels at the far end',
      twisted === 0 ? 'none needed' : `${sayCount(twisted, 'swivel')}, one a twisted tablet`,
      'Nothing shows in the band. Each tablet needs its own weight; a swivel can turn by itself, so look after every stop.',
    ),
  ]
}
