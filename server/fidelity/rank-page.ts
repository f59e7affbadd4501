import { hangsOnWeights, rankBy, type Standing } from '../../shared/fidelity/ranking.ts'
import { ASPECT_LABELS } from '../../shared/fidelity/aspect.ts'
import { EQUAL_WEIGHTS } from '../../shared/fidelity/total.ts'
import type { Db } from '../db/open.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import type { Html, PageHead } from '../pages.ts'
import { findPiece, listPieces, type Piece } from '../piece/queries.ts'
import { EQUAL, readWeighting, type WeightingChoice } from '../weighting/choice.ts'
import { listWeightings } from '../weighting/queries.ts'
import { boundsBar, sayBounds } from './bar.ts'
import { listJudgementsOf, toJudged } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'fidelity/rank': RankPage
  }
}

interface RankPage extends PageHead {
  readonly ranks: readonly {
    readonly name: string
    readonly path: string
    readonly bounds: string
    readonly bar: Html
    readonly open: string
    readonly parts: readonly { readonly label: string; readonly bounds: string; readonly bar: Html }[]
    readonly toNext: string
  }[]
  readonly aspects: readonly string[]
  readonly weighting: WeightingChoice['view']
  readonly hangs: readonly string[]
  /** How many weightings were tried for that. */
  readonly tried: number
  readonly isTried: boolean
  readonly ids: readonly number[]
  readonly choices: readonly { readonly id: number; readonly name: string; readonly checked: boolean }[]
}

const MOST_PIECES = 60

export interface RankRequest {
  readonly pieces: readonly Piece[]
  readonly weighting: WeightingChoice
}

/** `?piece=3&piece=5&by=2`: the pieces to be ranked, and by which weights. */
export function readRanked(db: Db, query: Readonly<Record<string, unknown>>): RankRequest {
  const typed = query.piece === undefined ? [] : [query.piece].flat()
  if (typed.length > MOST_PIECES) throw new HttpError(400, `At most ${MOST_PIECES} pieces are ranked together.`)
  const ids = [...new Set(typed.map((id) => readId(typeof id === 'string' ? id : undefined, 'piece')))]
  const pieces = ids.map((id) => {
    const piece = findPiece(db, id)
    if (!piece) throw notFound('piece')
    return piece
  })
  return { pieces, weighting: readWeighting(db, query) }
}

const NEXT: Readonly<Record<Standing, string>> = {
  always: 'Nearer than the next one in every aspect, whatever the weights and whatever is not known.',
  underThese: 'Nearer than the next one by these weights, whatever is not known.',
  open: 'Whether it is nearer than the next one hangs on what is not known: their bounds overlap.',
}

export function rankPage(db: Db, { pieces, weighting }: RankRequest): RankPage {
  const judgements = listJudgementsOf(
    db,
    pieces.map(({ id }) => id),
  )
  const named = pieces.map((piece) => ({ key: piece, judged: toJudged(judgements.get(piece.id)!) }))
  const weightings = [{ name: EQUAL, weights: EQUAL_WEIGHTS }, ...listWeightings(db)]
  const ranks = rankBy(named, weighting.weights)
  const chosen = new Set(pieces.map(({ id }) => id))
  return {
    ...{ title: 'Pieces by how near they come', section: 'pieces', weighting: weighting.view },
    aspects: ranks[0]?.total.parts.map(({ aspect }) => ASPECT_LABELS[aspect]) ?? [],
    ranks: ranks.map(({ key, total, toNext }) => ({
      ...{ name: key.name, path: `/pieces/${key.id}/fidelity`, bounds: sayBounds(total), bar: boundsBar(total) },
      open: `${Math.round(total.openShare * 100)} %`,
      parts: total.parts.map((part) => ({
        label: ASPECT_LABELS[part.aspect],
        bounds: sayBounds(part),
        bar: boundsBar(part),
      })),
      toNext: toNext ? NEXT[toNext] : '',
    })),
    hangs: hangsOnWeights(named, weightings).map(
      ({ pair: [first, second], before, after }) =>
        `${first.name} stands before ${second.name} by ${sayNames(before)}, and after it by ${sayNames(after)}.`,
    ),
    tried: weightings.length,
    isTried: weightings.length > 1,
    ids: [...chosen],
    choices: listPieces(db).map(({ id, name }) => ({ id, name, checked: chosen.has(id) })),
  }
}

const sayNames = (names: readonly string[]) =>
  names.length < 4 ? names.map((name) => `“${name}”`).join(', ') : `“${names[0]}” and ${names.length - 1} others`
