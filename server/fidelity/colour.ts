import { labOfHex, type Lab } from '../../shared/colour/lab.ts'
import { matchColours } from '../../shared/fidelity/match-colours.ts'
import { greyScaleGrade } from '../../shared/yarn/lot-colour.ts'
import type { ComparedPiece } from '../compare/queries.ts'
import type { Db } from '../db/open.ts'
import { listObserved } from '../observed/queries.ts'
import type { ShelfLot } from '../yarn/queries.ts'
import { lotLabel } from '../yarn/swatch.ts'

/** A colour of the original beside the one that the piece has in its place. */
export interface ColourLine {
  readonly original: { readonly name: string; readonly hex: string }
  readonly piece: { readonly name: string; readonly hex: string }
  /** `3.2`, CIEDE2000. */
  readonly difference: string
  /** `3-4, a slight difference, seen side by side`. */
  readonly grade: string
}

export interface ColourEvidence {
  readonly lines: readonly ColourLine[]
  /** How the colours of the original are known; empty where none are. */
  readonly from: string
}

interface Named {
  readonly key: string
  readonly name: string
  readonly hex: string
}

/**
 * The colours of the original beside those of the lots in the piece, or of its draft where no lot is named. Those of the
 * original are what claims name as #rrggbb, or else what was read off a photograph.
 */
export function colourEvidence(db: Db, compared: ComparedPiece, lots: readonly ShelfLot[]): ColourEvidence {
  const { ones, from } = coloursOfOriginal(db, compared)
  const others = coloursOfPiece(compared, lots)
  const pick = (of: readonly Named[], key: string) => of.find((one) => one.key === key)!
  const lines = matchColours(ones, others).map(({ one, other, difference }) => {
    const [original, piece] = [pick(ones, one), pick(others, other)]
    const labs: [Lab, Lab] = [labOfHex(original.hex), labOfHex(piece.hex)]
    const { grade, words } = greyScaleGrade(...labs)
    return { original, piece, difference: difference.toFixed(1), grade: `${grade}, ${words}` }
  })
  return { lines, from: lines.length === 0 ? '' : from }
}

function coloursOfOriginal(db: Db, { sides, original }: ComparedPiece): { ones: Named[]; from: string } {
  if (!original) return { ones: [], from: '' }
  const claimed = [...sides.original.values()].flatMap(({ feature, part, claim }) => {
    const hex = feature.kind === 'colour' && /#[0-9a-f]{6}\b/i.exec(claim?.words ?? '')?.[0].toLowerCase()
    return hex ? [{ key: `claim-${claim!.id}`, name: part || feature.label, hex }] : []
  })
  if (claimed.length > 0) return { ones: claimed, from: 'as its claims give them' }
  const [newest] = listObserved(db, { noun: 'original', id: original.id })
  const read = Object.entries(newest?.colours ?? {}).map(([key, { name, hex }]) => ({ key, name: name || key, hex }))
  return { ones: read, from: 'as read off a photograph, whose light and camera are in them' }
}

function coloursOfPiece({ yarns, draft }: ComparedPiece, lots: readonly ShelfLot[]): Named[] {
  const worn = yarns.flatMap(({ lotId, colourKey }) => {
    const lot = lots.find(({ id }) => id === lotId)
    return lot && lot.hex !== '' ? [{ key: `lot-${lot.id}`, name: lotLabel(lot), hex: lot.hex, colourKey }] : []
  })
  const covered = new Set(worn.map(({ colourKey }) => colourKey))
  const drafted = Object.entries(draft?.draft.colours ?? {})
    .filter(([key]) => !covered.has(key))
    .map(([key, { name, hex }]) => ({ key: `draft-${key}`, name: `${name || key}, as drafted`, hex }))
  // A lot that weaves two colours of the draft is one colour.
  const once = new Map([...worn, ...drafted].map(({ key, name, hex }) => [key, { key, name, hex }]))
  return [...once.values()]
}
