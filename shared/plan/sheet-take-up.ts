import type { PlanFacts } from './facts.ts'
import { sayNumber, sayPercent, shown, type ShownRow } from './say.ts'
import { sayTablets } from './sheet-twist.ts'
import type { PlanFigures } from './work-out.ts'

/** Tablets that take up alike stand together. */
export function takeUpRows({ draft }: PlanFacts, { takeUp, turning }: PlanFigures): ShownRow[] {
  const groups = new Map<string, { percent: number; quarters: number; tablets: number[] }>()
  for (const [at, percent] of takeUp.perTablet.entries()) {
    let quarters = 0
    for (let pick = 0; pick < turning.picks; pick++) quarters += Math.abs(turning.turns[pick * turning.tablets + at]!)
    const key = `${draft.tablets[at]!.part} ${quarters} ${percent.toFixed(6)}`
    const group = groups.get(key) ?? { percent, quarters, tablets: [] }
    group.tablets.push(at + 1)
    groups.set(key, group)
  }
  const learned = takeUp.by === 'corrected' ? takeUp.ratio : takeUp.by === 'settled' ? takeUp.settled : null
  const factor = learned?.mean ?? 1
  return [...groups].map(([key, { percent, quarters, tablets }]) => ({
    ...{ key, head: sayTablets(draft, tablets), hex: '' },
    cells: [
      shown(
        `${sayNumber(quarters / turning.picks)} a pick`,
        `${quarters} quarter turns in ${turning.picks} picks of the repeat`,
      ),
      shown(sayPercent(percent)),
      shown(
        sayPercent(percent * factor),
        factor === 1 ? '' : `${sayPercent(percent)} × ${sayNumber(factor)}, from own pieces`,
      ),
    ],
  }))
}
