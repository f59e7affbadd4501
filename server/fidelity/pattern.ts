import type { Draft } from '../../shared/draft/draft.ts'
import { countLegible } from '../../shared/draft/infer/observed.ts'
import { matchColours } from '../../shared/fidelity/match-colours.ts'
import type { Relation } from '../../shared/fidelity/relation.ts'
import { compareWithDraft } from '../../shared/observed/woven-errors.ts'
import type { Db } from '../db/open.ts'
import { listObserved, type Observed } from '../observed/queries.ts'
import { comparisonInWords, draftInWords, nameOf } from '../observed/view.ts'

/** How one observed face stands to the draft, in words, with its base. */
export interface PatternLine {
  readonly name: string
  readonly text: string
  readonly path: string
  /** Cells that differ in 1,000 legible ones; undefined where nothing could be compared. */
  readonly per1000: number | undefined
}

export interface PatternEvidence {
  /** Observed faces of the original beside the draft of the piece. */
  readonly original: readonly PatternLine[]
  /** Observed faces of the piece beside the same draft. */
  readonly piece: readonly PatternLine[]
  readonly proposed: Relation | undefined
}

/** Up to here a pattern is called near. A convention of this program with no source; the page says it. */
export const NEAR_PER_1000 = 50

/** Looks at a cell that a page may take: tenths of a second. */
const MOST_LOOKS = 30_000_000

/** @param revisionId of the draft that the piece is woven from, where the viewer may see it */
export function patternEvidence(
  db: Db,
  subject: { readonly pieceId: number; readonly originalId: number | undefined },
  woven: { readonly draft: Draft; readonly revisionId: number } | undefined,
): PatternEvidence {
  const faces = (noun: 'original' | 'piece', id: number | undefined) =>
    id === undefined ? [] : listObserved(db, { noun, id })
  const original = woven
    ? faces('original', subject.originalId).map((face) =>
        besideDraft(face, woven.draft, draftInWords(db, woven.revisionId)),
      )
    : []
  const piece = faces('piece', subject.pieceId)
    .filter(({ comparison }) => comparison !== undefined)
    .map((face) => ({
      ...lineOf(face, comparisonInWords(db, face)),
      per1000:
        face.comparison?.revisionId === woven?.revisionId ? rateOf(face, face.comparison!.differing.length) : undefined,
    }))
  const worst = (lines: readonly PatternLine[]) =>
    lines.flatMap(({ per1000 }) => per1000 ?? []).toSorted((a, b) => b - a)[0]
  const [drafted, made] = [worst(original), worst(piece)]
  return { original, piece, proposed: drafted === undefined ? undefined : relationOf(drafted + (made ?? 0)) }
}

const relationOf = (per1000: number): Relation =>
  per1000 === 0 ? 'same' : per1000 <= NEAR_PER_1000 ? 'near' : 'substituted'

const lineOf = (face: Observed, text: string) => ({ name: nameOf(face), text, path: `/observed/${face.id}` })

function rateOf({ face }: Observed, differing: number): number | undefined {
  const { legible } = countLegible(face)
  return legible === 0 ? undefined : (1000 * differing) / legible
}

function besideDraft(observed: Observed, draft: Draft, draftName: string): PatternLine {
  const { face } = observed
  const [tablets, picks] = [face.cells[0]!.length, face.cells.length]
  const nothing = (why: string): PatternLine => ({ ...lineOf(observed, why), per1000: undefined })
  if (tablets !== draft.tablets.length)
    return nothing(`${tablets} tablets were read and ${draftName} has ${draft.tablets.length}: nothing was compared.`)
  // A repeat that does not close goes on for four at most.
  if (draft.picks.length * 4 * picks * tablets > MOST_LOOKS)
    return nothing(`Too large to be laid beside ${draftName} on this page.`)
  const palette = (colours: Observed['colours']) => Object.entries(colours).map(([key, { hex }]) => ({ key, hex }))
  const keys = new Map(
    matchColours(palette(observed.colours), palette(draft.colours)).map(({ one, other }) => [one, other]),
  )
  // A colour that the draft has no match for differs wherever it is seen: no key begins with a sign.
  const cells = face.cells.map((row) => row.map((key) => (key === null ? null : (keys.get(key) ?? `+${key}`))))
  const { legible, differing } = compareWithDraft(draft, { ...face, cells })
  if (legible === 0) return nothing(`No cell is legible, so nothing can be said beside ${draftName}.`)
  const rate = (1000 * differing.length) / legible
  const count = legible.toLocaleString('en-GB')
  const text =
    differing.length === 0
      ? `None of ${count} legible cells differs from ${draftName}.`
      : `${differing.length.toLocaleString('en-GB')} of ${count} legible cells differ from ${draftName}: ${rate.toPrecision(2)} per 1,000.`
  return { ...lineOf(observed, text), per1000: rate }
}
