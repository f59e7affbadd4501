import type { Db } from '../db/open.ts'
import type { PageHead } from '../pages.ts'
import { viewerIsKeeper } from '../rights/allowed.ts'
import { currentViewer, isAlone } from '../rights/viewer.ts'
import { choiceKey, type BroughtIn, type Choice } from './bring-in.ts'
import { LISTS, type Notebook } from './notebook.ts'
import type { Plan, PlanItem } from './plan.ts'
import { isAloneKind } from './quote-field.ts'
import { KINDS } from './record.ts'
import { fieldLabel, KIND_LABELS, namesIn, recordLabel, sayValue } from './words.ts'

declare module '../pages.ts' {
  interface Pages {
    'archive/export': ExportPage
    'archive/import': ImportPage
    'archive/choose': ChoosePage
    'archive/done': DonePage
  }
}

interface ExportPage extends PageHead {
  readonly isAlone: boolean
  readonly isKeeper: boolean
}

interface ImportPage extends PageHead {
  readonly problems: readonly { href: string; text: string }[]
  readonly problem: string
}

interface ChoosePage extends PageHead {
  readonly action: string
  readonly heading: string
  readonly problems: readonly { href: string; text: string }[]
  readonly counts: readonly { label: string; isNew: number; same: number; conflicts: number; left: number }[]
  readonly conflicts: readonly ConflictView[]
  readonly left: readonly string[]
  readonly isExact: boolean
  /** Conflicts beyond those that are shown: a form takes only so many fields. */
  readonly more: number
  readonly rest: ConflictView['choices']
  readonly isNothing: boolean
}

interface ConflictView {
  readonly id: string
  readonly name: string
  readonly title: string
  readonly kind: string
  readonly problem: string
  readonly differences: readonly { field: string; here: string; there: string }[]
  readonly choices: readonly { id: string; value: Choice; label: string; checked: boolean }[]
}

interface DonePage extends PageHead {
  readonly lines: readonly string[]
  readonly remarks: readonly string[]
}

export const exportPage = (): ExportPage => ({
  title: 'Export',
  section: 'home',
  isAlone: isAlone(currentViewer()),
  isKeeper: viewerIsKeeper(),
})

export function importPage(problem = ''): ImportPage {
  const problems = problem ? [{ href: '#f-archive', text: problem }] : []
  return { title: 'Import', section: 'home', problems, problem }
}

const CHOICES: readonly (readonly [Choice, string])[] = [
  ['ours', 'Keep what is here'],
  ['theirs', 'Take what is in the archive'],
  ['both', 'Keep both: the archive’s comes in as a copy'],
]

/** Far fewer than the fields that a form may have. */
const MOST_CONFLICTS = 100

/** What would come in, and each record that says one thing here and another in the archive, side by side. */
export function choosePage(
  db: Db,
  token: string,
  { plan, notebook }: { readonly plan: Plan; readonly notebook: Notebook },
  chosen?: ReadonlyMap<string, Choice>,
): ChoosePage {
  const names = namesIn(notebook.records)
  const all = plan.items.filter(({ state }) => state === 'conflict')
  const conflicts = all.slice(0, MOST_CONFLICTS).map((item) => toConflict(db, item, names, chosen))
  const problems = conflicts
    .filter(({ problem }) => problem !== '')
    .map(({ id, title, problem, choices }) => ({ href: `#${choices[0]?.id ?? id}`, text: `${title}: ${problem}` }))
  const heading = conflicts.length > 0 ? 'Import: some of it is here already, and differs' : 'Import: a look before'
  const isNothing = plan.items.every(({ state }) => state === 'same' || state === 'left')
  return {
    ...{ title: heading, section: 'home', heading, problems, conflicts },
    ...{ action: `/import/${token}`, isExact: plan.isExact, isNothing },
    more: all.length - conflicts.length,
    rest: CHOICES.map(([value, label]) => ({ id: `c-rest-${value}`, value, label, checked: false })),
    counts: KINDS.map((kind) => {
      const of = (...states: PlanItem['state'][]) =>
        plan.items.filter((item) => item.kind === kind && states.includes(item.state)).length
      return {
        label: fieldLabel(LISTS[kind]),
        ...{ isNew: of('new', 'copy'), same: of('same'), conflicts: of('conflict'), left: of('left') },
      }
    }).filter(({ isNew, same, conflicts, left }) => isNew + same + conflicts + left > 0),
    left: [...leftOut(plan), ...missing(plan)].slice(0, 100),
  }
}

function toConflict(
  db: Db,
  { kind, record, differences, mayReplace }: PlanItem,
  names: ReadonlyMap<string, string>,
  chosen: ReadonlyMap<string, Choice> | undefined,
): ConflictView {
  const name = choiceKey(kind, record.uid)
  const choice = chosen?.get(name)
  return {
    ...{ id: `c-${name}`, name, title: recordLabel(kind, record), kind: KIND_LABELS[kind].one },
    problem: chosen && !choice ? 'please choose which of the two is to stand.' : '',
    differences: differences.map(({ field, here, there }) => ({
      field: fieldLabel(field),
      here: sayValue(db, kind, field, here, names),
      there: sayValue(db, kind, field, there, names),
    })),
    choices: CHOICES.filter(
      ([value]) => (value !== 'theirs' || mayReplace) && (value !== 'both' || (kind !== 'plan' && !isAloneKind(kind))),
    ).map(([value, label]) => ({
      ...{ id: `c-${name}-${value}`, value, label },
      checked: choice === value,
    })),
  }
}

const leftOut = ({ items }: Plan) =>
  items
    .filter(({ state }) => state === 'left')
    .map(({ kind, record, why }) => `${KIND_LABELS[kind].one} “${recordLabel(kind, record)}” is left out: ${why}.`)

const missing = (plan: Plan) =>
  plan.missing.map(
    ({ kind, record, field }) =>
      `${KIND_LABELS[kind].one} “${recordLabel(kind, record)}” names ${fieldLabel(field).toLowerCase()} that is neither in the archive nor here; it comes in without.`,
  )

export function donePage({ counts, remarks }: BroughtIn): DonePage {
  const say = (count: number, one: string, many: string) =>
    count === 0 ? [] : [`${count} ${count === 1 ? one : many}`]
  return {
    ...{ title: 'Imported', section: 'home', remarks },
    lines: [
      ...say(counts.new, 'record came in', 'records came in'),
      ...say(counts.same, 'was here already and says the same', 'were here already and say the same'),
      ...say(counts.theirs, 'now says what the archive says', 'now say what the archive says'),
      ...say(counts.ours, 'stayed as it was here', 'stayed as they were here'),
      ...say(counts.both, 'came in as a copy beside what was here', 'came in as copies beside what was here'),
      ...say(counts.left, 'was left out', 'were left out'),
    ],
  }
}
