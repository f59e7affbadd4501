import { compareFaces, faceGrid, type FaceComparison, type FaceGrid } from '../../shared/draft/compare-faces.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import type { Inference } from '../../shared/draft/infer/infer.ts'
import { type InferRequest, listRequestProblems } from '../../shared/draft/infer/request.ts'
import { recover, type Recovery } from '../../shared/draft/recover.ts'
import { compareOffThread, inferOffThread } from '../off-thread.ts'
import { compareSidesShape, gridShape, inferShape, recoverShape } from './draft-shapes.ts'
import { ApiRefusal, readBody } from './problem.ts'

/** Tablets times picks of one face. */
const MOST_CELLS = 1_000_000

/** The draft that explains an observed face best. */
export async function inferCall(body: unknown, signal: AbortSignal): Promise<Inference> {
  const { title = '', observed: cells, observedSlant: slants, require, ...rest } = readBody(inferShape, body)
  refuseLarge(cells, 'observed')
  const { closes = false, twistNeutral = false, longestFloat } = require
  const request: InferRequest = {
    ...{ colours: rest.colours, tablets: rest.tablets },
    ...(rest.weft === undefined ? {} : { weft: rest.weft }),
    observed: slants ? { cells, slants } : { cells },
    require: { closes, twistNeutral, ...(longestFloat === undefined ? {} : { longestFloat }) },
  }
  const problems = listRequestProblems(request)
  const result = problems.length > 0 ? { ok: false as const, problems } : await inferOffThread(request, title, signal)
  if (!result.ok) throw new ApiRefusal(422, 'No draft can be worked out from this.', result.problems)
  return result.inference
}

/** Two drafts or observed faces, one over the other. Small ones are compared at once. */
export async function compareCall(body: unknown, signal: AbortSignal): Promise<FaceComparison> {
  const sides = readBody(compareSidesShape, body)
  const a = readSide('a', sides.a)
  const b = readSide('b', sides.b)
  const isSmall = a.length * a[0]!.length * (a.length + b.length) < 4_000_000
  return isSmall ? compareFaces(a, b) : compareOffThread(a, b, signal)
}

function readSide(name: 'a' | 'b', side: unknown): FaceGrid {
  if (side === undefined) {
    throw new ApiRefusal(422, 'Two faces are needed.', [{ path: name, message: 'This is missing.' }])
  }
  if (Array.isArray(side)) {
    const grid = readBody(gridShape, side, name)
    refuseLarge(grid, name)
    const odd = grid.findIndex((row) => row.length !== grid[0]!.length)
    if (odd < 0) return grid
    const message = `This pick has ${grid[odd]!.length} tablets, the first has ${grid[0]!.length}.`
    throw new ApiRefusal(422, 'The rows of a face are all as long.', [{ path: `${name}[${odd}]`, message }])
  }
  const draft = readDraftAt(name, side)
  refuseLarge({ length: draft.picks.length, 0: draft.tablets }, name)
  return faceGrid(draft)
}

/** What a tablet needs that shows the wrong threads on top. */
export function recoverCall(body: unknown): Recovery {
  const { draft, rightUntil, ...seen } = readBody(recoverShape, body)
  const read = readDraftAt('draft', draft)
  refuseLarge({ length: read.picks.length, 0: read.tablets }, 'draft')
  try {
    return recover(read, { ...seen, ...(rightUntil === undefined ? {} : { rightUntil }) })
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    const path = /^\w+/.exec(error.message)?.[0] ?? ''
    throw new ApiRefusal(422, 'There is no such place in this draft.', [{ path, message: `${error.message}.` }])
  }
}

function readDraftAt(name: string, document: unknown): Draft {
  const read = readDraft(document)
  if (read.ok) return read.draft
  const errors = read.problems.map(({ path, message }) => ({ path: [name, path].filter(Boolean).join('.'), message }))
  throw new ApiRefusal(422, 'This is not a draft document that can be woven.', errors)
}

function refuseLarge(rows: { readonly length: number; readonly 0?: { readonly length: number } }, path: string): void {
  const cells = rows.length * (rows[0]?.length ?? 0)
  if (cells <= MOST_CELLS) return
  const message = `${cells} cells (tablets times picks) are more than the ${MOST_CELLS} that one request takes.`
  throw new ApiRefusal(413, message, [{ path, message }])
}
