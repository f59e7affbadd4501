import { createHash } from 'node:crypto'
import { toFrame } from '../../shared/draft/convention/convert.ts'
import { cardOf } from '../../shared/draft/convention/written.ts'
import type { ConventionCard } from '../../shared/draft/convention/card.ts'
import { changesBy } from '../../shared/draft/convention/convert.ts'
import { looksLikeDraftText, readDraftText } from '../../shared/draft/entry/draft-text.ts'
import { LONGEST_TITLE } from '../../shared/draft/document-shape.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { type ReadFaceTable, readFaceTable } from '../../shared/draft/table/face-table.ts'
import { sayTablePlace, type TableProblem } from '../../shared/draft/table/cell.ts'
import { isTurnCell, readTurnsTable } from '../../shared/draft/table/turns-table.ts'
import { CONVENTION_FIELDS, type ConventionForm, readConventionForm } from '../convention/form.ts'
import type { Convention } from '../draft/queries.ts'
import { readEntered, requiredLine } from '../form.ts'
import { readTable } from './table.ts'

export const FORMATS = [
  ['', 'Find out by itself'],
  ['document', 'Draft document (JSON)'],
  ['text', 'Text form'],
  ['turns', 'Table of turns (CSV)'],
  ['face', 'Table of face colours (CSV)'],
] as const
type Format = 'document' | 'text' | 'turns' | 'face'

const FIELDS = ['document', 'format', 'title', 'looked', 'keep'] as const
export type ImportEntered = Record<(typeof FIELDS)[number], string>

/** What is wrong, and where: a path of the document, a line of the text, or a row and column of the table. */
export interface ImportProblem {
  readonly place: string
  readonly message: string
}

export type Imported =
  | { readonly kind: 'draft'; readonly draft: Draft }
  /** A table of turns without threading: the rest is typed in the form of a new draft. */
  | { readonly kind: 'picks'; readonly picks: readonly string[]; readonly tablets: number }
  | { readonly kind: 'face'; readonly face: ReadFaceTable & { ok: true } }

export interface ImportForm {
  readonly entered: ImportEntered
  readonly convention: ConventionForm
  readonly problems: readonly ImportProblem[]
  /** In our frame, when nothing is wrong. */
  readonly value: { readonly imported: Imported; readonly convention: Convention } | undefined
  /** What was looked at: kept only where the form still says it. */
  readonly looked: string
  readonly keep: boolean
}

/** A file as it was pasted or chosen, with how it is written down. Nothing of it is kept by reading it. */
export function readImportForm(body: unknown): ImportForm {
  const entered = readEntered(body, FIELDS)
  const convention = readConventionForm(body)
  const read = readFile(entered)
  const looked = createHash('sha256')
    .update(JSON.stringify([entered.document, entered.format, entered.title, readEntered(body, CONVENTION_FIELDS)]))
    .digest('hex')
  const value =
    read.ok && convention.value
      ? { imported: converted(read.imported, cardOf(convention.value.written)), convention: convention.value }
      : undefined
  return { entered, convention, problems: read.ok ? [] : read.problems, value, looked, keep: entered.keep !== '' }
}

type ReadFile = { ok: true; imported: Imported } | { ok: false; problems: readonly ImportProblem[] }

const refused = (problems: readonly ImportProblem[]): ReadFile => ({ ok: false, problems })

function readFile({ document, format, title }: ImportEntered): ReadFile {
  if (document.trim() === '') return refused([{ place: '', message: 'Please paste a draft, or choose its file.' }])
  switch (isFormat(format) ? format : guessFormat(document)) {
    case 'document':
      return readDocument(document)
    case 'text': {
      const read = readDraftText(document)
      if (read.ok) return withTitle(read.draft, title)
      return refused(
        read.problems.map(({ line, column, message }) => ({ place: `Line ${line}, character ${column}`, message })),
      )
    }
    case 'turns':
      return readTurns(document, title)
    case 'face':
      return readFace(document)
  }
}

const isFormat = (format: string): format is Format => FORMATS.some(([key]) => key !== '' && key === format)

function guessFormat(text: string): Format {
  if (/^\s*[[{]/.test(text)) return 'document'
  if (looksLikeDraftText(text)) return 'text'
  if (/^\s*</.test(text)) return 'document'
  const read = readTable(text)
  if (!read.ok) return 'face'
  const labels = new Set(read.rows.map(({ cells }) => cells[0]!.toLowerCase()))
  if (labels.has('threading')) return 'turns'
  if (labels.has('colour')) return 'face'
  // A first column of numbers is no part of the picks. Most cells decide: one that is misprinted is still to be named.
  const cells = read.rows.flatMap(({ cells: [first = '', ...rest] }) => (/^\d+$/.test(first) ? rest : [first, ...rest]))
  const filled = cells.filter((cell) => cell !== '')
  return filled.filter(isTurnCell).length * 2 > filled.length ? 'turns' : 'face'
}

function readDocument(text: string): ReadFile {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (error) {
    return refused([{ place: '', message: sayJsonProblem(text, String(error)) }])
  }
  const read = readDraft(value)
  if (!read.ok) return refused(read.problems.map(({ path, message }) => ({ place: path, message })))
  const title = requiredLine('Please give the draft a title.', LONGEST_TITLE).safeParse(read.draft.title)
  if (!title.success) return refused([{ place: 'title', message: title.error.issues[0]!.message }])
  return { ok: true, imported: { kind: 'draft', draft: { ...read.draft, title: title.data } } }
}

/** What JSON.parse says differs between versions of Node; the place is worth having where it is given. */
function sayJsonProblem(text: string, said: string): string {
  const at = /position (\d+)/.exec(said)
  const before = at ? text.slice(0, Number(at[1])).split('\n') : undefined
  const place = before ? ` at line ${before.length}, character ${before.at(-1)!.length + 1}` : ''
  return `This is not JSON${place}: a quotation mark, comma or bracket is missing or one too many.`
}

/** A text or a table may have no title of its own: then the form's. */
function withTitle(draft: Draft, typed: string): ReadFile {
  const title = requiredLine('It has no title of its own: please give it one.', LONGEST_TITLE).safeParse(
    draft.title || typed,
  )
  if (!title.success) return refused([{ place: 'Title', message: title.error.issues[0]!.message }])
  return { ok: true, imported: { kind: 'draft', draft: { ...draft, title: title.data } } }
}

const inTable = (problems: readonly TableProblem[]) =>
  refused(problems.map((problem) => ({ place: sayTablePlace(problem), message: problem.message })))

function readTurns(text: string, title: string): ReadFile {
  const table = readTable(text)
  if (!table.ok) return inTable(table.problems)
  const read = readTurnsTable(table.rows, title)
  if (!read.ok) return inTable(read.problems)
  if (read.draft) return withTitle(read.draft, title)
  return { ok: true, imported: { kind: 'picks', picks: read.picks, tablets: read.tablets } }
}

function readFace(text: string): ReadFile {
  const table = readTable(text)
  if (!table.ok) return inTable(table.problems)
  const face = readFaceTable(table.rows)
  return face.ok ? { ok: true, imported: { kind: 'face', face } } : inTable(face.problems)
}

/** Brought into our frame. Picks alone wait for their threading, and are converted with it. */
function converted(imported: Imported, card: ConventionCard): Imported {
  if (imported.kind === 'draft') return { kind: 'draft', draft: toFrame(imported.draft, card) }
  if (imported.kind === 'picks') return imported
  const { tablets, picks } = changesBy(card)
  const { face } = imported
  const across = tablets ? face.cells.map((row) => row.toReversed()) : face.cells
  return { kind: 'face', face: { ...face, cells: picks ? across.toReversed() : across } }
}
