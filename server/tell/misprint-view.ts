import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import {
  type CellChange,
  findMisprints,
  MOST_MISPRINT_PICKS,
  type Misprint,
  type MisprintSearch,
  type PropertyKey,
  type StatedProperties,
} from '../../shared/draft/tell/misprint.ts'
import type { Turning } from '../../shared/draft/woven.ts'

const MOST_ROWS = 20

export interface MisprintView {
  /** What came of it; empty while nothing was asked. */
  readonly lead: string
  readonly unmet: readonly string[]
  readonly rows: readonly { what: string; mends: string; face: string; equal: string }[]
  readonly more: string
}

const NOTHING: MisprintView = { lead: '', unmet: [], rows: [], more: '' }

export function misprintView(draft: Draft, turning: Turning, stated: StatedProperties): MisprintView {
  if (turning.picks > MOST_MISPRINT_PICKS) {
    return { ...NOTHING, lead: `Misprints are looked for in repeats of at most ${MOST_MISPRINT_PICKS} picks.` }
  }
  const search = findMisprints(draft, turning, stated)
  if (search.stated.length === 0) return NOTHING
  const { found, more } = search
  const rest = found.length - MOST_ROWS + more
  return {
    lead: sayFound(search),
    unmet: search.unmet.map(({ key, places }) => sayUnmet(key, places)),
    rows: found.slice(0, MOST_ROWS).map((misprint) => toRow(draft, misprint, search.stated.length)),
    more:
      rest > 0
        ? `Another ${sayCount(rest, 'change')} would do as well or less; say more of the draft to tell them apart.`
        : '',
  }
}

function sayFound({ stated, unmet, found, more }: MisprintSearch): string {
  if (unmet.length === 0) {
    return stated.length === 1
      ? 'What is stated is true of this draft.'
      : `All ${stated.length} things stated are true of this draft.`
  }
  const count = found.length + more
  if (count === 0) return 'No change of a single cell makes more of it true. There may be two misprints, or none.'
  const alone = `${sayCount(count, 'change')} of a single cell ${count === 1 ? 'makes' : 'make'} more of it true.`
  return `${alone} The likeliest come first. Nothing is changed; look at the publication.`
}

function sayUnmet(key: PropertyKey, places: number): string {
  const tablets = sayCount(places, 'tablet')
  if (key === 'neutral') return `It is not twist-neutral: ${tablets} ${places === 1 ? 'is' : 'are'} left twisted.`
  if (key === 'closes')
    return `It does not close: ${tablets} ${places === 1 ? 'stands' : 'stand'} at another hole after one repeat.`
  if (key === 'threading')
    return `The threading is not mirrored, in ${places} ${places === 1 ? 'pair' : 'pairs'} of tablets.`
  if (key === 'turning')
    return `The turning is not alike left and right, in ${places} ${places === 1 ? 'pair' : 'pairs'} of turns.`
  if (key === 'floats') return `Floats are longer than stated, in ${tablets}.`
  return `The colours of the face are not as stated, in ${places} ${places === 1 ? 'pair' : 'pairs'} of cells.`
}

const TURNS = new Map([
  [1, 'forward'],
  [-1, 'back'],
  [0, 'idle'],
  [2, 'half a turn forward'],
  [-2, 'half a turn back'],
])

const KEYS: Readonly<Record<PropertyKey, string>> = {
  neutral: 'twist-neutral',
  closes: 'closes',
  threading: 'threading mirrored',
  turning: 'turned alike',
  floats: 'floats as stated',
  face: 'face as stated',
}

function sayChange(draft: Draft, change: CellChange): string {
  const tablet = `tablet ${change.tablet}`
  if (change.kind === 'turn') {
    return `Pick ${change.pick}, ${tablet}: ${TURNS.get(change.now)!}, not ${TURNS.get(change.was)!}`
  }
  if (change.kind === 'threading') return `Threading of ${tablet}: ${change.now}, not ${change.was}`
  const colour = (key: string | null) => (key === null ? 'empty' : (draft.colours[key]?.name ?? key))
  return `Hole ${change.hole} of ${tablet}: ${colour(change.now)}, not ${colour(change.was)}`
}

function toRow(draft: Draft, { change, restored, broken, met, faceChanges, equalPicks }: Misprint, stated: number) {
  const lost = broken.length === 0 ? '' : `; no longer: ${broken.map((key) => KEYS[key]).join(', ')}`
  return {
    what: sayChange(draft, change),
    mends: `${restored.map((key) => KEYS[key]).join(', ')}${lost} (${met} of ${stated} true)`,
    face: String(faceChanges),
    equal: change.kind === 'turn' ? String(equalPicks) : '',
  }
}
