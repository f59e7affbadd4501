import { lessonRows, sayLessons } from './sheet-lessons.ts'
import { takeUpRows } from './sheet-take-up.ts'
import { sayGroups, windingOrder } from './winding-order.ts'
import { listAssumptions, type Assumption } from './sheet-assumptions.ts'
import { scaleRows, type ScaleSheet } from './sheet-scale.ts'
import { twistSheet, type TwistSheet } from './sheet-twist.ts'
import type { PlanEntered } from './entry.ts'
import type { PlanFacts } from './facts.ts'
import { type PlanWants, readPlan } from './read-plan.ts'
import {
  sayCm,
  sayG,
  sayM,
  sayMetres,
  sayMm,
  sayNumber,
  sayPercent,
  sayTex,
  shown,
  type Shown,
  type ShownRow,
} from './say.ts'
import { type PlanFigures, workOutPlan, type YarnNeed } from './work-out.ts'

/** A plan in words and digits, as the page shows it; the browser writes the same into the page while somebody types. */
export interface Sheet extends TwistSheet, ScaleSheet {
  readonly figures: { readonly warpLength: Shown; readonly ends: Shown; readonly windingTurns: Shown }
  readonly warp: readonly ShownRow[]
  readonly needs: readonly ShownRow[]
  readonly weft: readonly ShownRow[]
  readonly winding: readonly ShownRow[]
  readonly takeUp: readonly ShownRow[]
  /** What own finished pieces taught of take-up, measured and by settled grams beside each other. */
  readonly lessons: readonly ShownRow[]
  readonly assumptions: readonly Assumption[]
  readonly says: Readonly<
    Record<'warp' | 'weft' | 'needs' | 'width' | 'twist' | 'limit' | 'proposal' | 'taught' | 'lessons', string>
  >
}

export interface WorkedSheet {
  readonly sheet: Sheet
  readonly figures: PlanFigures
  readonly wants: PlanWants
  readonly problems: Readonly<Record<string, string>>
}

/**
 * From what is typed to what is shown: the one way, on the server and in the browser.
 * @param entered as typed, every word of it
 * @param facts the draft, the yarns, and what own pieces taught
 * @returns the sheet, the figures behind it, and a sentence for each field that cannot be used
 * @example planSheet({ ...BLANK_PLAN, wovenCm: '150' }, facts).sheet.figures.warpLength.text // '2.56 m'
 */
export function planSheet(entered: PlanEntered, facts: PlanFacts): WorkedSheet {
  const { wants, problems } = readPlan(entered, facts)
  const figures = workOutPlan(wants, facts)
  const twist = twistSheet(wants, facts, figures)
  const scale = scaleRows(wants, figures.scale, figures.warpYarn)
  return {
    ...{ figures, wants, problems },
    sheet: {
      ...twist,
      ...scale,
      figures: bigFigures(wants, facts, figures),
      warp: warpRows(wants, facts, figures),
      needs: figures.needs.map(needRow),
      weft: weftRows(wants, figures),
      winding: windingRows(wants, facts, figures),
      takeUp: takeUpRows(facts, figures),
      lessons: lessonRows(facts),
      assumptions: listAssumptions(wants, facts, figures),
      says: {
        ...twist.says,
        ...scale.says,
        lessons: sayLessons(wants, facts, figures),
        warp: figures.warp ? '' : sayMissingLength(wants, figures),
        weft: figures.weft ? '' : sayMissingWeft(wants, figures),
        needs: figures.needs.length === 0 ? 'No yarn is named yet; choose one for each colour below.' : '',
      },
    },
  }
}

function bigFigures(
  wants: PlanWants,
  { draft }: PlanFacts,
  { warp, wovenMm, takeUp, windingTurnMm }: PlanFigures,
): Sheet['figures'] {
  const holes = draft.tablets.length * 4
  const ends = draft.tablets.flatMap((tablet) => tablet.holes).filter((key) => key !== null).length
  const empty = holes - ends
  const shrunk =
    wants.shrinkPercent > 0 ? `${sayCm(wovenMm ?? 0)} ÷ (1 − ${sayPercent(wants.shrinkPercent)})` : sayCm(wovenMm ?? 0)
  const factor =
    takeUp.typed?.of === 'warp'
      ? `÷ (1 − ${sayPercent(takeUp.typed.percent)} of the warp)`
      : `× (1 + ${sayPercent(takeUp.percent)} of the woven length)`
  return {
    warpLength: warp
      ? shown(
          sayM(warp.warpLengthMm),
          `(${shrunk} woven + ${sayCm(wants.sampleMm)} sample) ${factor} + ${sayCm(wants.wasteMm)} loom waste + ${sayCm(wants.fringeMm)} fringe = ${sayCm(warp.warpLengthMm)}`,
          'wovenCm',
        )
      : shown('not yet known', '', 'wovenCm'),
    ends: shown(
      String(ends),
      `${draft.tablets.length} tablets × 4 holes = ${holes}${empty > 0 ? `, less ${empty} empty holes` : ', none empty'}`,
    ),
    windingTurns:
      warp?.windingTurns && windingTurnMm
        ? shown(
            `${sayNumber(warp.windingTurns)} turns`,
            `${sayCm(warp.warpLengthMm)} an end ÷ ${sayCm(windingTurnMm)} a turn${wants.winder === 'arms' ? ` (${wants.winderArms ?? ''} arms × ${sayCm(wants.winderSpacingMm ?? 0)})` : ''} = ${sayNumber(warp.windingTurns, 4)}`,
            'winder',
          )
        : shown(warp ? 'no winder named' : 'not yet known', '', 'winder'),
  }
}

const sayMissingLength = ({ wovenBy }: PlanWants, { picksPerCm }: PlanFigures): string => {
  if (wovenBy === 'length') return 'How long the band is to be is not said yet.'
  return picksPerCm
    ? 'How many repeats are to be woven is not said yet.'
    : 'A length by repeats needs the picks per cm.'
}

function sayMissingWeft(wants: PlanWants, { picksPerCm, toWeaveMm }: PlanFigures): string {
  if (toWeaveMm === null) return sayMissingLength(wants, { picksPerCm } as PlanFigures)
  if (picksPerCm === null) return 'Weft and twist need the picks per cm: type them, or measure them on a sample.'
  return 'The weft needs the width of the band: type it, or name a warp yarn, and it is predicted.'
}

function warpRows({ warp: yarns }: PlanWants, { draft }: PlanFacts, { warp }: PlanFigures): ShownRow[] {
  if (!warp) return []
  const rows = Object.entries(warp.perColour).map(([key, { ends, lengthM, massG }]): ShownRow => {
    const colour = draft.colours[key]
    const yarn = yarns[key]!
    return {
      ...{ key, head: colour?.name || key, hex: colour?.hex ?? '' },
      cells: [
        shown(String(ends)),
        shown(sayMetres(lengthM), `${ends} ends × ${sayM(warp.warpLengthMm)} = ${sayMetres(lengthM)}`, 'wovenCm'),
        massG === null
          ? shown('not known', 'Grams need a yarn whose tex is known.', `warp-${key}`)
          : shown(sayG(massG), `${sayMetres(lengthM)} × ${sayTex(yarn.tex!)} ÷ 1000 = ${sayG(massG)}`, `warp-${key}`),
        shown(yarn.label || 'no yarn named', yarn.from, `warp-${key}`),
      ],
    }
  })
  const masses = Object.values(warp.perColour).map(({ massG }) => massG)
  const mass = masses.includes(null) ? null : masses.reduce<number>((sum, one) => sum + (one ?? 0), 0)
  const total: ShownRow = {
    ...{ key: 'total', head: 'Together', hex: '' },
    cells: [
      shown(String(warp.ends)),
      shown(
        sayMetres(warp.totalLengthM),
        `${warp.ends} ends × ${sayM(warp.warpLengthMm)} = ${sayMetres(warp.totalLengthM)}`,
      ),
      mass === null ? shown('not known') : shown(sayG(mass)),
      shown(''),
    ],
  }
  return [...rows, total]
}

function needRow({ yarn, massG, lengthM }: YarnNeed): ShownRow {
  const need = massG === null ? shown(sayMetres(lengthM)) : shown(`${sayG(massG)}, ${sayMetres(lengthM)}`)
  return {
    ...{ key: yarn.value, head: yarn.label, hex: '' },
    cells: [
      need,
      yarn.freeG === null
        ? shown('no lot chosen')
        : shown(sayG(yarn.freeG), 'On hand, less what is reserved for other pieces.'),
      shown(sayShelf(yarn, massG)),
    ],
  }
}

function sayShelf({ freeG, tex }: YarnNeed['yarn'], massG: number | null): string {
  if (freeG === null) return 'choose a lot to compare with the shelf'
  if (massG === null) return 'its tex is not known, so grams are not either'
  const over = freeG - massG
  if (over >= 0) return `enough, ${sayG(over)} over`
  return `short by ${sayG(-over)}${tex ? `, ${sayMetres((-over * 1000) / tex)}` : ''}`
}

function weftRows(wants: PlanWants, { weft, toWeaveMm, picksPerCm }: PlanFigures): ShownRow[] {
  if (!weft || toWeaveMm === null || !picksPerCm) return []
  const { picks, widthMm, lengthM, massG } = weft
  const strands = wants.weftStrands === 1 ? '' : ` × ${wants.weftStrands} strands`
  return [
    {
      ...{ key: 'weft', head: wants.weft.label || 'no yarn named', hex: '' },
      cells: [
        shown(
          String(picks),
          `${sayCm(toWeaveMm)} on the loom, the sample with it × ${sayNumber(picksPerCm.value)} picks per cm (${picksPerCm.from}) = ${picks}`,
          'picksPerCm',
        ),
        shown(
          sayMetres(lengthM),
          `${picks} picks × ${wants.weftPasses} × (${sayMm(widthMm)} wide, ${weft.widthFrom} + ${sayMm(10 / picksPerCm.value)} to the next pick) × (1 + ${sayPercent(wants.weftAllowance)})${strands} = ${sayMetres(lengthM)}`,
          'widthMm',
        ),
        massG === null
          ? shown('not known', 'Grams need a yarn whose tex is known.', 'weft')
          : shown(sayG(massG), `${sayMetres(lengthM)} × ${sayTex(wants.weft.tex!)} ÷ 1000 = ${sayG(massG)}`, 'weft'),
      ],
    },
  ]
}

function windingRows({ warp: yarns }: PlanWants, { draft }: PlanFacts, { warp }: PlanFigures): ShownRow[] {
  return windingOrder(draft.tablets.map(({ holes }) => holes)).map(({ colour: key, ends, groups }) => {
    const colour = draft.colours[key]
    const turns = warp?.windingTurns
    return {
      ...{ key, head: colour?.name || key, hex: colour?.hex ?? '' },
      cells: [
        shown(String(ends)),
        turns
          ? shown(sayNumber(ends * turns, 4), `${ends} ends × ${sayNumber(turns)} turns an end`, 'winder')
          : shown('–'),
        shown(sayGroups(groups)),
        shown(yarns[key]!.label || 'no yarn named'),
      ],
    }
  })
}
