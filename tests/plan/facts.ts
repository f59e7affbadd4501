import type { Draft } from '../../shared/draft/draft.ts'
import { BLANK_PLAN, type PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import { listDensities } from '../../shared/yarn/density.ts'
import { makeTablet } from '../draft/arbitrary-draft.ts'

const border = makeTablet({ part: 'border', holes: ['m', 'm', 'm', 'm'] })
const pattern = makeTablet({ holes: ['m', 'm', 'w', 'w'] })

/** Two border tablets on each side that turn forward at every pick; four between them that go forward and back. */
export const LADDER: Draft = {
  title: 'Ladder',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [border, border, pattern, pattern, pattern, pattern, border, border],
  picks: ['8F', '8F', '2F 4B 2F', '2F 4B 2F'],
}

export function factsOf(changes: Partial<PlanFacts> = {}): PlanFacts {
  return {
    draft: LADDER,
    ...{
      writtenReversals: [],
      yarns: [],
      densities: listDensities([]),
      takeUpRatios: [],
      settled: [],
      cordRatios: [],
      stops: [],
      picksPerCm: null,
      widthMm: null,
    },
    original: { widthMm: null, tabletsPerCm: null, endsPerCm: null, threadMm: null },
    ...changes,
  }
}

/** A plan with what a test says of it; the rest as in a form that nobody has touched. */
export const enteredOf = (changes: Readonly<Record<string, string>> = {}): PlanEntered =>
  ({ ...BLANK_PLAN, ...changes }) as PlanEntered
