import { z } from 'zod'
import { COUNT_SYSTEMS, convertCount, type CountSystem } from '../../shared/yarn/count.ts'
import { choice, decimalText, line, parseForm, readEntered, wholeNumber } from '../form.ts'

/** What yarns usually do in a band; a role may also be in the maker's own words. */
export const YARN_ROLES = ['pattern warp', 'border warp', 'weft', 'brocading weft'] as const

/** As many yarns as a form takes; a form field of each counts towards the limit of a request. */
export const MOST_YARNS = 24
/** Rows that stand empty below those that are filled. */
export const SPARE_ROWS = 3

export interface PieceYarn {
  readonly role: string
  readonly yarn: string
  /** Of one single, as typed, with a point; undefined when not known. */
  readonly count: string | undefined
  readonly countSystem: CountSystem
  readonly ply: number
  /** Key of the draft's colours that it weaves; empty when none. */
  readonly colourKey: string
  /** The lot on the shelf that it came from. */
  readonly lotId?: number | undefined
}

export type YarnEntered = Record<'role' | 'yarn' | 'count' | 'countSystem' | 'ply' | 'colourKey' | 'lot', string>
export type YarnProblems = Partial<Record<keyof YarnEntered, string>>

export const COUNT_SYSTEM_KEYS = Object.keys(COUNT_SYSTEMS) as CountSystem[]
export const BLANK_YARN: YarnEntered = {
  ...{ role: '', yarn: '', count: '', countSystem: 'tex', ply: '', colourKey: '', lot: '' },
}
const COLUMNS = Object.keys(BLANK_YARN) as (keyof YarnEntered)[]

const PLIED = /^\s*(\d+[.,]?\d*)\s*\/\s*(\d+)\s*$/

const count = () =>
  line(30)
    .transform((text, check) => {
      const [, first, second] = PLIED.exec(text) ?? []
      if (first)
        check.addIssue({
          code: 'custom',
          message: `Please part ${first}/${second}: the count of one single here, the plies beside it.`,
        })
      return first ? '' : text
    })
    .pipe(decimalText())
    .refine(
      (text) => text === undefined || Number(text) > 0,
      'A count is more than 0; leave it empty when it is not known.',
    )

const yarnSchema = (colourKeys: readonly string[], lotIds: readonly number[]) =>
  z.object({
    role: line(60).transform((text) => YARN_ROLES.find((role) => role === text.toLowerCase()) ?? text),
    yarn: line(),
    count: count(),
    countSystem: choice(COUNT_SYSTEM_KEYS, 'Please choose what the count counts.'),
    ply: wholeNumber(1, 100).transform((ply) => ply ?? 1),
    colourKey: choice(['', ...colourKeys], 'This colour is not one of the draft chosen; please choose again.'),
    lot: choice(['', ...lotIds.map(String)], 'This lot is not on the shelf any more; please choose again.'),
  })

export type ReadYarns =
  | { readonly ok: true; readonly yarns: readonly PieceYarn[]; readonly rows: readonly YarnEntered[] }
  | { readonly ok: false; readonly rows: readonly YarnEntered[]; readonly problems: readonly YarnProblems[] }

/**
 * The rows of yarns, `role-0`, `yarn-0` … An empty row is passed over; the others come back in their order, closed up,
 * with their problems at the same place.
 * @param colourKeys of the draft chosen; none for a piece without one
 * @param lotIds those that may be named
 */
export function readYarnRows(body: unknown, colourKeys: readonly string[], lotIds: readonly number[] = []): ReadYarns {
  const rows = listFilledRows(body)
  const yarns: PieceYarn[] = []
  const problems: YarnProblems[] = rows.map((row) => {
    const read = parseForm(row, yarnSchema(colourKeys, lotIds))
    if (!read.ok) return read.problems
    const { lot, ...rest } = read.value
    const yarn: PieceYarn = lot === '' ? rest : { ...rest, lotId: Number(lot) }
    const found = rowProblem(yarn)
    if (Object.keys(found).length === 0) yarns.push(yarn)
    return found
  })
  return problems.every((problem) => Object.keys(problem).length === 0)
    ? { ok: true, yarns, rows }
    : { ok: false, rows, problems }
}

/** Those rows in which something was typed. */
export function listFilledRows(body: unknown): YarnEntered[] {
  const rows = Array.from({ length: MOST_YARNS }, (_, at) => {
    const typed = readEntered(
      body,
      COLUMNS.map((column) => `${column}-${at}`),
    )
    return Object.fromEntries(COLUMNS.map((column) => [column, typed[`${column}-${at}`] ?? ''])) as YarnEntered
  })
  // The count system always stands in its list and says nothing by itself.
  return rows.filter((row) => COLUMNS.some((column) => column !== 'countSystem' && row[column].trim() !== ''))
}

function rowProblem({ role, yarn, count, countSystem, ply, lotId }: PieceYarn): YarnProblems {
  if (role === '') return { role: 'Please say what this yarn does, such as weft.' }
  if (yarn === '' && count === undefined && lotId === undefined)
    return { yarn: 'Please say which yarn it is, or give its count.' }
  try {
    toTex({ count, countSystem, ply })
    return {}
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return { count: 'No yarn has this count; please look at the number and its system again.' }
  }
}

/** Tex of one single and of the plied yarn before contraction, unrounded; undefined when the count is not known. */
export function toTex({ count, countSystem, ply }: Pick<PieceYarn, 'count' | 'countSystem' | 'ply'>) {
  if (count === undefined) return undefined
  const { tex, resultantTex } = convertCount(Number(count), countSystem, 'tex', ply)
  return { tex, resultantTex }
}
