import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { listFaceRows } from '../../shared/draft/tell/face-row.ts'
import { compareHalves, type Likeness } from '../../shared/draft/tell/likeness.ts'
import { takeTablets } from '../../shared/draft/tell/memory-voice.ts'
import { findSymmetry, type Move, type Symmetry } from '../../shared/draft/tell/symmetry.ts'
import type { Turning, Woven } from '../../shared/draft/woven.ts'

export interface SymmetryView {
  readonly halves: readonly { readonly label: string; readonly text: string }[]
  /** Of the turning and of the face, for all tablets and, where there are borders, for the pattern tablets alone. */
  readonly groups: readonly { readonly heading: string; readonly lines: readonly string[] }[]
}

export function symmetryView(draft: Draft, turning: Turning, woven: Woven): SymmetryView {
  const rows = listFaceRows(draft, woven)
  const { threading, turning: turns, colours, slants } = compareHalves(draft, turning, woven, rows)
  const pattern = draft.tablets.flatMap(({ part }, at) => (part === 'pattern' ? [at + 1] : []))
  const groups = [groupOf('Of all tablets', turning, rows)]
  if (pattern.length > 0 && pattern.length < draft.tablets.length) {
    const cells = { tablets: rows.tablets, picks: rows.picks, turns: Int8Array.from(rows.colours) }
    const face = takeTablets(cells, pattern)
    const colours = Uint8Array.from(face.turns)
    const part = { ...rows, tablets: pattern.length, colours }
    const alone = groupOf('Of the pattern tablets alone', takeTablets(turning, pattern), part)
    if (alone.lines.join() === groups[0]!.lines.join())
      groups[0] = { ...alone, heading: 'Of all tablets, and of the pattern tablets alone' }
    else groups.push(alone)
  }
  return {
    halves: [
      { label: 'Threading', text: sayLikeness(threading, 'pair of tablets', 'pairs of tablets') },
      { label: 'Turning', text: sayLikeness(turns, 'pair of turns', 'pairs of turns') },
      { label: 'Colours of the face', text: sayLikeness(colours, 'pair of cells', 'pairs of cells') },
      { label: 'Slants of the face', text: sayLikeness(slants, 'pair of stitches', 'pairs of stitches') },
    ],
    groups,
  }
}

function sayLikeness({ same, of }: Likeness, one: string, many: string): string {
  if (of === 0) return 'a single tablet has no halves'
  if (same === of) return `mirrored, every one of ${of} ${of === 1 ? one : many}`
  return `not mirrored: ${same} of ${of} ${of === 1 ? one : many} agree`
}

interface FaceOf {
  readonly tablets: number
  readonly picks: number
  readonly repeats: number
  readonly colours: Uint8Array
}

function groupOf(heading: string, turning: Turning, face: FaceOf): SymmetryView['groups'][number] {
  const { tablets, picks, turns } = turning
  const ofTurning = findSymmetry({ tablets, picks, cells: turns }, (turn) => -turn)
  const [one, other, ...rest] = new Set(face.colours)
  // With two colours, and nothing else showing, they can change places.
  const isTwo = one !== undefined && other !== undefined && rest.length === 0
  const swap = isTwo ? (colour: number) => (colour === one ? other : one) : undefined
  const ofFace = findSymmetry({ tablets: face.tablets, picks: face.picks, cells: face.colours }, swap)
  const stated = face.repeats === 1 ? '' : `, which closes after ${face.repeats} repeats of ${picks}`
  return {
    heading,
    lines: [
      sayPeriod('turning', ofTurning, picks, ''),
      ...ofTurning.moves.map((move) => sayMove('turning', move, 'turned the other way')),
      sayPeriod('face', ofFace, face.picks, stated),
      ...ofFace.moves.map((move) => sayMove('face', move, 'with its two colours exchanged')),
    ],
  }
}

function sayPeriod(what: 'turning' | 'face', { period }: Symmetry, picks: number, stated: string): string {
  if (period === picks) return `The ${what} has no shorter repeat in its ${sayCount(picks, 'pick')}${stated}.`
  const times = picks / period
  return `The ${what} repeats after ${sayCount(period, 'pick')} already, ${times} times in ${picks}${stated}.`
}

function sayMove(what: 'turning' | 'face', { mirrored, fromEnd, exchanged, shift }: Move, exchange: string): string {
  const ways = [mirrored && 'mirrored left for right', exchanged && exchange, fromEnd && 'taken from its end']
  const how = ways.filter((way) => way !== false).join(', ')
  if (fromEnd) {
    const axis = mirrored ? 'half a turn' : 'a mirror across its length'
    const name = exchanged ? '' : ` (${axis})`
    return `The ${what}, ${how}, is itself again${name}: pick 1 then lies on pick ${shift + 1}.`
  }
  if (shift === 0) return `The ${what}, ${how}, is itself again at the same picks.`
  const glide = mirrored && !exchanged ? ' (a glide)' : ''
  return `The ${what}, ${how}, is itself again ${sayCount(shift, 'pick')} on${glide}.`
}
