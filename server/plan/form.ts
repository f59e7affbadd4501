import {
  BLANK_PLAN,
  PLAN_FIELDS,
  type PlanEntered,
  yarnFields,
  type YarnPart,
  yarnParts,
} from '../../shared/plan/entry.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { readCount } from '../../shared/yarn/written-count.ts'
import { readEntered } from '../form.ts'
import { toTex, type PieceYarn } from '../piece/yarn-form.ts'

/** A line of a plan holds a number, a list of picks or a count. */
const MOST_CHARACTERS = 12_000

/** A plan as it was typed, from a form or from an address. */
export function readPlanEntered(source: unknown, { tablets }: Pick<Draft, 'tablets'>): PlanEntered {
  const names = yarnParts(tablets).flatMap((part) => Object.values(yarnFields(part)))
  const entered = readEntered(source, [...PLAN_FIELDS, ...names])
  const bounded = Object.entries(entered).map(([name, typed]) => [name, typed.slice(0, MOST_CHARACTERS)])
  return Object.fromEntries(bounded) as PlanEntered
}

/** Whether an address carries a plan, or only asks for the one that is kept. */
export const hasPlan = (query: unknown): boolean =>
  typeof query === 'object' && query !== null && Object.hasOwn(query, 'wovenBy')

/** The yarn noted with a piece that serves a part of the band. */
export const findNoted = (yarns: readonly PieceYarn[], part: YarnPart): PieceYarn | undefined =>
  yarns.find(({ role, colourKey }) =>
    part.part === 'weft' ? /weft/i.test(role) && colourKey === '' : colourKey === part.key && !/weft/i.test(role),
  )

/** What stands in the form of a piece that has no plan yet: the counts of the yarns noted with it. */
export function beginPlan(yarns: readonly PieceYarn[], { tablets }: Pick<Draft, 'tablets'>): PlanEntered {
  const counts = yarnParts(tablets).map((part) => {
    const noted = findNoted(yarns, part)
    return [yarnFields(part).count, noted ? writtenCount(noted) : ''] as const
  })
  return { ...BLANK_PLAN, ...Object.fromEntries(counts) } as PlanEntered
}

const SIGNS: Readonly<Partial<Record<PieceYarn['countSystem'], string>>> = {
  ...{ tex: 'tex', dtex: 'dtex', ktex: 'ktex', denier: 'denier' },
}

/** The count of a noted yarn as it is read again; empty where it would be read as another tex. */
export function writtenCount({ count, countSystem, ply }: PieceYarn): string {
  if (count === undefined) return ''
  const direct = SIGNS[countSystem]
  const text = direct
    ? `${count} ${direct}${ply > 1 ? ` x ${ply}` : ''}`
    : `${countSystem} ${count}${ply > 1 ? `/${ply}` : ''}`
  const read = readCount(text)
  const tex = toTex({ count, countSystem, ply })?.resultantTex
  return read.ok && tex !== undefined && Math.abs(read.reading.resultantTex / tex - 1) < 1e-9 ? text : ''
}
