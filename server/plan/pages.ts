import type { PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import type { Assumption } from '../../shared/plan/sheet-assumptions.ts'
import { planSheet, type Sheet } from '../../shared/plan/sheet.ts'
import type { Shown, ShownRow } from '../../shared/plan/say.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { CAUTIONS } from '../caution.ts'
import type { ComparedPiece } from '../compare/queries.ts'
import { problemList } from '../field.ts'
import { toHtml, type Html, type PageHead } from '../pages.ts'
import { hiddenName } from '../rights/allowed.ts'
import { planFields, type PlanFieldsView } from './fields.ts'

declare module '../pages.ts' {
  interface Pages {
    'plan/show': PlanShowPage
    'plan/none': PlanNonePage
  }
}

interface PlanNonePage extends PageHead {
  readonly pieceId: number
  readonly mayEdit: boolean
  readonly why: string
}

interface TableView {
  readonly key: string
  /** The first is that of the row heads. */
  readonly columns: readonly string[]
  readonly rows: readonly (Omit<ShownRow, 'cells'> & {
    readonly cells: readonly (Shown & { readonly label: string })[]
  })[]
}

/** What may be done with the yarn of a plan that is kept. */
export interface ReserveView {
  readonly settlePath: string
  readonly says: string
  readonly buttons: readonly { readonly action: string; readonly label: string }[]
}

/** What writing the reversals into the draft does. */
export interface ReviseView {
  readonly says: string
  /** What changes where the piece is put on the new revision. */
  readonly changes: string
}

interface PlanShowPage extends PageHead, PlanFieldsView {
  readonly pieceId: number
  readonly heading: string
  readonly lead: string
  readonly draftPath: string
  readonly mayEdit: boolean
  /** The version that the form was opened on, empty where no plan is kept. */
  readonly version: string
  readonly isKept: boolean
  /** How the buttons that only work it out send the form: an address that is not too long, or a form. */
  readonly work: { readonly method: 'get' | 'post'; readonly path: string }
  readonly big: readonly { key: string; label: string; base: string; shown: Shown }[]
  readonly tables: Readonly<Record<TableName, TableView>>
  readonly says: Sheet['says']
  readonly assumptions: readonly Assumption[]
  readonly chart: Html | ''
  readonly proposed: string
  readonly revise: ReviseView | ''
  readonly caution: string
  readonly reserve: ReserveView | ''
  /** JSON for the browser script; empty where the draft is too large to be worked out at every key. */
  readonly facts: string
}

const TABLES = {
  warp: ['Colour', 'Ends', 'Metres', 'Grams', 'Yarn'],
  needs: ['Yarn', 'Needed', 'Free on the shelf', 'So'],
  weft: ['Yarn', 'Picks', 'Metres', 'Grams'],
  winding: ['Colour', 'Ends', 'Turns', 'Ends by tablet', 'Yarn'],
  takeUp: ['Tablets', 'Turns', 'By geometry', 'Planned with'],
  lessons: ['Own piece', 'Measured, over geometry', 'By grams settled', 'Over geometry', 'Weft, used over planned'],
  scale: ['Of this yarn', 'To expect', 'From, to'],
  targets: ['Of the original', 'Is', 'Thread', 'Yarn'],
  nearest: ['Yarn on the shelf', 'Tex', 'Of what is wanted', 'Band', 'Free'],
  twist: ['Tablets', 'Turns at the end', 'In the warp left', 'Over the limit after'],
  twistPicks: ['Pick', 'Woven', 'Warp left', 'Borders', 'Pattern'],
  ways: ['Way', 'Here', 'What it costs'],
} as const satisfies Partial<Record<keyof Sheet, readonly string[]>>
type TableName = keyof typeof TABLES

/** Larger drafts are worked out on the server alone, by the button. */
const MOST_LIVE = 300_000

/** More yarns than these do not fit into an address. */
const MOST_IN_ADDRESS = 40

export interface ShownPlan {
  readonly compared: ComparedPiece & { readonly draft: NonNullable<ComparedPiece['draft']> }
  readonly facts: PlanFacts
  readonly entered: PlanEntered
  /** Of the plan that is kept, or that the form was opened on; undefined while none is. */
  readonly version: string
  readonly mayEdit: boolean
  readonly revise: ReviseView | ''
  /** Whether problems are told at the head as well: after a button, not on opening. */
  readonly isAsked: boolean
  readonly notice: string
  readonly reserve: ReserveView | ''
}

export function planShowPage(shown: ShownPlan): PlanShowPage {
  const { compared, facts, entered, version, mayEdit, revise, isAsked, notice, reserve } = shown
  const { piece, draft } = compared
  const { sheet, problems } = planSheet(entered, facts)
  const { fields, yarns } = planFields(facts, entered, problems)
  const views = [...Object.values(fields), ...yarns.flatMap(({ chosen, count }) => [chosen, count])]
  const { tablets, picks } = facts.draft
  return {
    title: `Plan of ${piece.name}`,
    section: 'pieces',
    scripts: ['plan'],
    ...{ notice, fields, yarns, mayEdit, revise, version },
    pieceId: piece.id,
    isKept: version !== '',
    work:
      yarns.length > MOST_IN_ADDRESS
        ? { method: 'post', path: `/pieces/${piece.id}/plan/work` }
        : { method: 'get', path: `/pieces/${piece.id}/plan` },
    heading: piece.name,
    lead: `${facts.draft.title}: ${sayCount(tablets.length, 'tablet')}, ${sayCount(picks.length, 'pick')} in the repeat.`,
    draftPath: draft.path,
    big: [
      { key: 'warpLength', label: 'Warp length', base: 'each end', shown: sheet.figures.warpLength },
      { key: 'ends', label: 'Ends', base: 'threaded holes', shown: sheet.figures.ends },
      {
        key: 'windingTurns',
        label: 'Winding turns',
        base: 'of your winder, each end',
        shown: sheet.figures.windingTurns,
      },
    ],
    tables: Object.fromEntries(
      (Object.keys(TABLES) as TableName[]).map((key) => [key, tableView(key, sheet[key])]),
    ) as unknown as PlanShowPage['tables'],
    says: sheet.says,
    assumptions: sheet.assumptions,
    chart: sheet.chart && toHtml(sheet.chart),
    proposed: sheet.proposed,
    caution: CAUTIONS.load.text,
    reserve,
    facts: tablets.length * picks.length > MOST_LIVE ? '' : JSON.stringify(facts),
    problems: isAsked ? problemList(Object.fromEntries(views.map((view) => [view.name, view]))) : [],
  }
}

function tableView(key: TableName, rows: readonly ShownRow[]): TableView {
  const columns: readonly string[] = TABLES[key]
  const labelled = rows.map((row) => ({
    ...row,
    cells: row.cells.map((cell, at) => ({ ...cell, label: columns[at + 1]! })),
  }))
  return { key, columns, rows: labelled }
}

/** A piece without a draft that the viewer may see has nothing to be worked out from. */
export function planNonePage({ piece, hides }: ComparedPiece, mayEdit: boolean): PlanNonePage {
  return {
    title: `Plan of ${piece.name}`,
    section: 'pieces',
    pieceId: piece.id,
    mayEdit,
    why: hides.draft
      ? `It is woven from ${hiddenName('draft')}, so its plan cannot be shown.`
      : 'A plan counts the ends and the turns of a draft, and this piece names none yet.',
  }
}
