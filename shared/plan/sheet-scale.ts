import { toDecimals } from '../measure/rounding.ts'
import type { PlanWants } from './read-plan.ts'
import { sayG, sayLearned, sayMm, sayNumber, sayTex, shown, type ShownRow } from './say.ts'
import { densityOf } from './warp-geometry.ts'
import type { PlanFigures } from './work-out.ts'
import type { ScaleFigures, YarnTarget } from './work-out-scale.ts'

export interface ScaleSheet {
  /** What the yarn gives. */
  readonly scale: readonly ShownRow[]
  /** Yarns that would reach something of the original. */
  readonly targets: readonly ShownRow[]
  /** Lots that come nearest to the first of these. */
  readonly nearest: readonly ShownRow[]
}

export function scaleRows(
  wants: PlanWants,
  scale: ScaleFigures,
  warp: PlanFigures['warpYarn'],
): ScaleSheet & { says: { width: string; taught: string } } {
  const { constant, width, tablets, targets, nearest } = scale
  const perCm = (mm: number) => toDecimals((10 * tablets) / mm, 1)
  const how = `${tablets} tablets × ${sayNumber(constant.k)} × the diameter of the thread${warp ? `, ${sayMm(warp.diameter.diameterMm)} ${warp.isMeasured ? 'as measured on the yarn' : `by its tex and ${warp.density.from}`}` : ''}`
  return {
    scale: width
      ? [
          {
            ...{ key: 'width', head: 'Width of the band', hex: '' },
            cells: [
              shown(
                sayMm(width.mm),
                `${how}; the range takes ${sayNumber(constant.low)} to ${sayNumber(constant.high)}${warp?.isMeasured ? '' : ', and the packing of the yarn'}`,
                'spun',
              ),
              shown(`${sayMm(width.lowMm)} to ${sayMm(width.highMm)}`),
            ],
          },
          {
            ...{ key: 'tablets', head: 'Tablets per cm', hex: '' },
            cells: [
              shown(perCm(width.mm), `${tablets} tablets ÷ ${sayMm(width.mm)} × 10`, 'spun'),
              shown(`${perCm(width.highMm)} to ${perCm(width.lowMm)}`),
            ],
          },
        ]
      : [],
    targets: targets.map((target) => targetRow(target, wants)),
    nearest: nearest.map(({ yarn, share, widthMm }) => ({
      ...{ key: yarn.value, head: yarn.label, hex: '' },
      cells: [
        shown(sayTex(yarn.tex!)),
        shown(`${sayNumber(share)} times`, `${sayTex(yarn.tex!)} ÷ ${sayTex(targets[0]!.tex)}`),
        shown(
          sayMm(widthMm),
          `${tablets} tablets × ${sayNumber(constant.k)} × ${sayMm(widthMm / tablets / constant.k)}, the diameter ${yarn.measuredMm === null ? `by its tex and ${densityOf(yarn, wants).from}` : 'as measured on the yarn'}`,
        ),
        shown(sayG(yarn.freeG!)),
      ],
    })),
    says: {
      width: width ? '' : 'How wide it will be needs a warp yarn whose tex is known.',
      taught: sayConstant(scale),
    },
  }
}

const WHAT: Readonly<Record<YarnTarget['what'], { say: string; unit: string }>> = {
  width: { say: 'Its width with these tablets', unit: 'mm' },
  tabletsPerCm: { say: 'Its tablets per cm', unit: 'per cm' },
  endsPerCm: { say: 'Its ends per cm', unit: 'per cm' },
  thread: { say: 'Its thread', unit: 'mm' },
}

function targetRow(target: YarnTarget, wants: PlanWants): ShownRow {
  const { say, unit } = WHAT[target.what]
  const { diameterMm, lowMm, highMm, tex, lowTex, highTex } = target
  return {
    ...{ key: target.what, head: say, hex: '' },
    cells: [
      shown(`${sayNumber(target.wanted.value)} ${unit}`, target.wanted.from),
      shown(sayMm(diameterMm) + (lowMm === highMm ? '' : `, ${sayMm(lowMm)} to ${sayMm(highMm)}`)),
      shown(
        `${sayTex(tex)}, ${sayNumber(lowTex)} to ${sayTex(highTex)}`,
        `Of the plan’s fibre, ${wants.density.from}, at the middle of its packing; the range takes both ends.`,
        'fibre',
      ),
    ],
  }
}

function sayConstant({ constant: { k, low, high, learned } }: ScaleFigures): string {
  const model = 'Cords lie side by side and touch, each as wide as its thread is thick times k.'
  const range = `${sayNumber(low)} to ${sayNumber(high)}`
  if (!learned)
    return `${model} k is ${sayNumber(k)}, from ${range}: our own guess (n = 0) until a finished piece of yours is measured.`
  const spread = learned.s === null ? `the range ${range} is still our own guess` : `95 % for the next piece: ${range}`
  return `${model} k is ${sayNumber(k)} by your own finished pieces (${sayLearned(learned)}); ${spread}.`
}
