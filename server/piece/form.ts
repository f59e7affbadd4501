import { z } from 'zod'
import { listDayConflicts, type PieceDays } from '../../shared/work/status.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import { day, line, optionalId, parseForm, readEntered, requiredLine, type Problems } from '../form.ts'
import { note } from '../markdown.ts'
import { readYarnRows, type PieceYarn, type YarnEntered, type YarnProblems } from './yarn-form.ts'

export const PIECE_DAYS = {
  plannedOn: 'Planned',
  onLoomOn: 'On the loom',
  wovenOn: 'Off the loom, woven',
  finishedOn: 'Finished',
  setAsideOn: 'Set aside',
} as const satisfies Record<keyof PieceDays, string>
const DAY_NAMES = Object.keys(PIECE_DAYS) as (keyof PieceDays)[]

const pieceDay = () =>
  day().refine((typed) => typed === undefined || typed >= '1900-01-01', 'Please look at the year again.')

export const pieceSchema = z.object({
  name: requiredLine('Please give the piece a name, such as what it is and for whom.'),
  maker: line(200),
  forWhom: line(),
  original: optionalId(),
  revision: optionalId(),
  plannedOn: pieceDay(),
  onLoomOn: pieceDay(),
  wovenOn: pieceDay(),
  finishedOn: pieceDay(),
  setAsideOn: pieceDay(),
  setAsideReason: line(1000),
  notes: note(),
  wentWrong: note(),
})

export interface PieceForm extends PieceDays {
  readonly name: string
  readonly maker: string
  readonly forWhom: string
  readonly originalId: number | undefined
  readonly draftRevisionId: number | undefined
  readonly setAsideReason: string
  readonly notes: string
  readonly wentWrong: string
  readonly yarns: readonly PieceYarn[]
}

export type PieceEntered = Record<keyof z.output<typeof pieceSchema>, string>

/** What there is to choose from, and the maker's day. */
export interface PieceChoices {
  readonly originalIds: readonly number[]
  readonly revisionIds: readonly number[]
  /** Colour keys of the draft revision that the form names. */
  readonly colourKeys: readonly string[]
  /** Lots that a yarn may come from. */
  readonly lotIds?: readonly number[]
  readonly today: string
}

export type ReadPiece =
  | { readonly ok: true; readonly value: PieceForm }
  | {
      readonly ok: false
      readonly entered: PieceEntered
      readonly problems: Problems<PieceEntered>
      readonly rows: readonly YarnEntered[]
      readonly rowProblems: readonly YarnProblems[]
    }

/** A piece as typed, with its yarns. Nothing of it is lost when a part is refused. */
export function readPieceForm(body: unknown, choices: PieceChoices): ReadPiece {
  const yarns = readYarnRows(body, choices.colourKeys, choices.lotIds)
  const typed = parseForm(body, pieceSchema)
  const problems = typed.ok ? pieceProblems(typed.value, choices) : typed.problems
  if (!typed.ok || !yarns.ok || Object.keys(problems).length > 0) {
    const entered = typed.ok ? enteredPiece(body) : typed.entered
    return { ok: false, entered, problems, rows: yarns.rows, rowProblems: yarns.ok ? [] : yarns.problems }
  }
  const { original, revision, ...rest } = typed.value
  return { ok: true, value: { ...rest, originalId: original, draftRevisionId: revision, yarns: yarns.yarns } }
}

/** What was typed, unjudged, for showing the form again. */
export const enteredPiece = (body: unknown): PieceEntered =>
  readEntered(body, Object.keys(pieceSchema.shape) as (keyof PieceEntered)[])

function pieceProblems(value: z.output<typeof pieceSchema>, choices: PieceChoices): Problems<PieceEntered> {
  const problems: Problems<PieceEntered> = {}
  if (value.original !== undefined && !choices.originalIds.includes(value.original))
    problems.original = 'This original is not in the notebook any more; please choose from the list.'
  if (value.revision !== undefined && !choices.revisionIds.includes(value.revision))
    problems.revision = 'This draft is not in the notebook any more; please choose from the list.'
  for (const name of DAY_NAMES) {
    if ((value[name] ?? '') > choices.today) problems[name] = 'This day has not come yet; enter it when it is true.'
  }
  for (const { day: late, before } of listDayConflicts(pick(value)))
    problems[late] ??=
      `This lies before “${PIECE_DAYS[before]}”, ${dayInWords(value[before] ?? '')}; one of the two days is wrong.`
  if (value.setAsideReason !== '' && value.setAsideOn === undefined)
    problems.setAsideOn ??= 'A reason needs the day on which it was set aside.'
  return problems
}

const pick = ({ plannedOn, onLoomOn, wovenOn, finishedOn, setAsideOn }: z.output<typeof pieceSchema>): PieceDays => ({
  ...{ plannedOn, onLoomOn, wovenOn, finishedOn, setAsideOn },
})
