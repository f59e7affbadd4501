import { type Colour, type ColourKey, type Hole, HOLES, MOST_PICKS, MOST_TABLETS, type Tablet } from '../draft.ts'
import { type ObservedFace, sizeOfObserved } from './observed.ts'

/** What is known of a tablet before its turning is looked for; null is to be found out. */
export interface KnownTablet {
  readonly threading: Tablet['threading'] | null
  readonly holes: Tablet['holes'] | null
  readonly start: Hole | null
  readonly part: Tablet['part']
}

/** What the turning must do, whatever it costs in mismatches. */
export interface Requirements {
  /** Every tablet is back at its starting hole after the repeat. */
  readonly closes?: boolean
  /** Every tablet has turned as often forward as back. */
  readonly twistNeutral?: boolean
  /** No thread stays on one side for more picks than this, within the repeat as given, as `longestFloat` counts. */
  readonly longestFloat?: number
}

export interface InferRequest {
  readonly colours: Readonly<Record<ColourKey, Colour>>
  /** Where given, an empty hole shows the weft; where not, it agrees with no colour. */
  readonly weft?: ColourKey
  /** As many as the observed face has. */
  readonly tablets: readonly KnownTablet[]
  readonly observed: ObservedFace
  readonly require: Requirements
}

export interface RequestProblem {
  /** `tablets[2].holes[1]`, positions counted from 0. */
  readonly path: string
  readonly message: string
}

/** Unknown holes are looked for over the colours of their tablet; with more than these it would take for ever. Our own. */
export const MOST_COLOURS_OF_TABLET = 24
const MOST_LISTED = 50

/**
 * What is wrong with a request beyond its shape: sizes, colours that are not there, requirements that no turning meets.
 * @returns problems with their path, 50 at most; empty when the request can be worked on
 * @example for 3 picks and twistNeutral: [{ path: 'require.twistNeutral', message: 'No turning of 3 picks …' }]
 */
export function listRequestProblems(request: InferRequest): RequestProblem[] {
  const sized = sizeProblems(request)
  if (sized.length > 0) return sized
  const problems = [...requirementProblems(request), ...colourProblems(request)]
  return problems.slice(0, MOST_LISTED)
}

function sizeProblems({ observed, tablets }: InferRequest): RequestProblem[] {
  let size: { tablets: number; picks: number }
  try {
    size = sizeOfObserved(observed)
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return [{ path: 'observed', message: `${error.message}.` }]
  }
  if (size.tablets > MOST_TABLETS || size.picks > MOST_PICKS) {
    const message = `At most ${MOST_TABLETS} tablets and ${MOST_PICKS} picks are read; here are ${size.tablets} and ${size.picks}.`
    return [{ path: 'observed', message }]
  }
  if (tablets.length === size.tablets) return []
  const message = `The observed face has ${size.tablets} tablets, but ${tablets.length} are described.`
  return [{ path: 'tablets', message }]
}

function requirementProblems({ observed, require }: InferRequest): RequestProblem[] {
  const picks = observed.cells.length
  const problems: RequestProblem[] = []
  const { longestFloat } = require
  if (longestFloat !== undefined && !(Number.isInteger(longestFloat) && longestFloat >= 1)) {
    problems.push({ path: 'require.longestFloat', message: 'The longest float is a whole number of picks from 1.' })
  }
  if (picks % 2 === 0) return problems
  const many = picks === 1 ? '1 pick' : `${picks} picks`
  if (require.twistNeutral) {
    const message = `No turning of ${many} is twist-neutral: as many turns back as forward make an even number.`
    problems.push({ path: 'require.twistNeutral', message })
  }
  if (require.closes) {
    const message = `No turning of ${many} closes: after an odd number of quarter turns no tablet is at its starting hole.`
    problems.push({ path: 'require.closes', message })
  }
  return problems
}

function colourProblems({ colours, weft, tablets, observed }: InferRequest): RequestProblem[] {
  const problems: RequestProblem[] = []
  const look = (path: string, key: ColourKey | null) => {
    if (key === null || Object.hasOwn(colours, key) || problems.length >= MOST_LISTED) return
    problems.push({ path, message: `No colour has the key “${key.slice(0, 12)}”.` })
  }
  if (weft !== undefined) look('weft', weft)
  tablets.forEach(({ holes }, at) =>
    HOLES.forEach((_, hole) => look(`tablets[${at}].holes[${hole}]`, holes?.[hole] ?? null)),
  )
  observed.cells.forEach((row, pick) => row.forEach((key, at) => look(`observed[${pick}][${at}]`, key)))
  if (problems.length > 0) return problems
  return tablets.flatMap(({ holes }, at) => {
    if (holes !== null) return []
    const seen = new Set(observed.cells.flatMap((row) => row[at] ?? []))
    if (seen.size <= MOST_COLOURS_OF_TABLET) return []
    const message = `Tablet ${at + 1} shows ${seen.size} colours; unknown holes are looked for over at most ${MOST_COLOURS_OF_TABLET}.`
    return [{ path: `tablets[${at}].holes`, message }]
  })
}
