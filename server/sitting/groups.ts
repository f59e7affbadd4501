import { workedMinutes } from '../../shared/work/pace.ts'
import type { Stage } from '../../shared/work/stage.ts'
import { durationInWords } from '../../shared/work/time-words.ts'
import type { Sitting } from './queries.ts'

/** Stages that belong together, with their time and their share of the whole. */
export interface GroupView {
  readonly label: string
  readonly worked: string
  readonly share: string
}

/** What is set up and finished stands apart from what is woven. */
const GROUPS: readonly { readonly label: string; readonly stages: readonly Stage[] }[] = [
  { label: 'Before the loom: study, draft, sample', stages: ['study', 'draft', 'sample'] },
  { label: 'Set-up: winding, threading', stages: ['wind', 'thread'] },
  { label: 'At the loom: weaving, unweaving', stages: ['weave', 'unweave'] },
  { label: 'After the loom: finishing, writing up', stages: ['finish', 'write'] },
]

/** The groups that took time, in the order of the work. */
export function groupSums(sittings: readonly Sitting[]): GroupView[] {
  const minutesOf = (list: readonly Sitting[]) => list.reduce((sum, sitting) => sum + workedMinutes(sitting), 0)
  const all = minutesOf(sittings)
  return GROUPS.flatMap(({ label, stages }) => {
    const minutes = minutesOf(sittings.filter(({ stage }) => stages.includes(stage)))
    if (minutes === 0) return []
    return [{ label, worked: durationInWords(minutes), share: `${Math.round((minutes / all) * 100)} %` }]
  })
}
