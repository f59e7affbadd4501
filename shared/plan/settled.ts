import { sumOf } from '../measure/univariate.ts'
import { type PlanYarn, type PlanWants } from './read-plan.ts'
import { sayCm, sayG } from './say.ts'
import type { PlanFigures } from './work-out.ts'

/** What a ledger says of one lot and a piece. */
export interface LotUse {
  readonly usedG: number
  /** Something of it is still reserved for the piece. */
  readonly isOpen: boolean
}

/** What the grams that a finished piece used say of its take-up. */
export interface SettledFigures {
  /** Of the woven length; null where the grams do not say. */
  readonly percent: number | null
  /** Weft used over weft planned; null where it is not known apart. */
  readonly weftRatio: number | null
  /** What `percent` rests on, or why there is none: a sentence. */
  readonly rests: string
}

interface Planned {
  warpG: number
  weftG: number
}

/**
 * Take-up from grams settled: grams of the warp, by tex and ends, are a length of each end; less what is not woven, over
 * what is woven. Of a lot that served warp and weft the grams are parted as they were planned.
 * @param wants of the piece's own plan: lengths as measured where they are, else as planned
 * @param figures of that plan
 * @param lots which lot served which part, by the names of `yarnFields`: `warp-m`, `weft`
 * @param uses by lot
 * @returns figures, unrounded
 * @example 8 ends of 100 tex, 2 g used: 2.5 m an end; less 0.8 m, over 1.5 m woven: 13.3 %
 * Source: the count, and ISO 7211-3 as `measuredTakeUp`.
 */
export function workOutSettled(
  wants: PlanWants,
  figures: Pick<PlanFigures, 'warp' | 'weft' | 'toWeaveMm'>,
  lots: ReadonlyMap<string, string>,
  uses: ReadonlyMap<string, LotUse>,
): SettledFigures {
  const { warp, weft, toWeaveMm } = figures
  const without = (rests: string): SettledFigures => ({ percent: null, weftRatio, rests })
  const planned = new Map<string, Planned>()
  const plan = (lot: string, part: keyof Planned, massG: number) => {
    const one = planned.get(lot) ?? { warpG: 0, weftG: 0 }
    one[part] += massG
    planned.set(lot, one)
  }
  const parts = Object.entries(warp?.perColour ?? {}).map(([key, need]) => ({
    ...{ key, need, lot: lots.get(`warp-${key}`) },
    yarn: wants.warp[key]!,
  }))
  for (const { need, lot } of parts) if (lot !== undefined) plan(lot, 'warpG', need.massG ?? 0)
  const weftLot = lots.get('weft')
  if (weftLot !== undefined) plan(weftLot, 'weftG', weft?.massG ?? 0)
  const weftRatio = ratioOfWeft(weftLot, planned, uses)

  if (!warp || toWeaveMm === null) return without('its plan does not say how long it is')
  const nameless = parts.find(({ lot, yarn }) => lot === undefined || yarn.tex === null)
  if (nameless) return without(`no lot with a known tex is named for the warp of colour ${nameless.key}`)
  const open = parts.find(({ lot }) => uses.get(lot!)?.isOpen)
  if (open) return without('not all of its yarn is settled yet')
  const unused = parts.find(({ lot }) => !((uses.get(lot!)?.usedG ?? 0) > 0))
  if (unused) return without(`nothing of ${labelOf(unused.yarn)} was entered as used, or it is not shared with you`)
  const warpLots = [...new Set(parts.map(({ lot }) => lot!))]
  if (warpLots.includes(weftLot ?? '') && (weft?.massG ?? null) === null)
    return without('warp and weft are of one lot, and how much of it the weft was planned to take is not known')

  const usedG = sumOf(
    warpLots.map((lot) => {
      const { warpG, weftG } = planned.get(lot)!
      return (uses.get(lot)!.usedG * warpG) / (warpG + weftG)
    }),
  )
  const gramsPerMetre = sumOf(parts.map(({ need, yarn }) => need.ends * yarn.tex!)) / 1000
  const endMm = (1000 * usedG) / gramsPerMetre
  const [unwovenMm, unwoven] =
    wants.leftMm === null ? [wants.wasteMm + wants.fringeMm, 'as planned'] : [wants.leftMm, 'as measured']
  const [wovenMm, woven] = wants.measuredMm === null ? [toWeaveMm, 'as planned'] : [wants.measuredMm, 'as measured']
  const isMixed = warpLots.includes(weftLot ?? '')
  return {
    percent: 100 * ((endMm - unwovenMm) / wovenMm - 1),
    weftRatio,
    rests: `${sayG(usedG)} of warp, by the count ${sayCm(endMm)} for each of ${warp.ends} ends, less ${sayCm(unwovenMm)} not woven (${unwoven}), over ${sayCm(wovenMm)} woven (${woven})${isMixed ? '; warp and weft of one lot are parted as they were planned' : ''}`,
  }
}

const labelOf = ({ label }: Pick<PlanYarn, 'label'>) => label || 'one of its lots'

function ratioOfWeft(
  lot: string | undefined,
  planned: ReadonlyMap<string, Planned>,
  uses: ReadonlyMap<string, LotUse>,
): number | null {
  const use = lot === undefined ? undefined : uses.get(lot)
  const { warpG = 0, weftG = 0 } = (lot !== undefined && planned.get(lot)) || {}
  return use && !use.isOpen && use.usedG > 0 && warpG === 0 && weftG > 0 ? use.usedG / weftG : null
}
