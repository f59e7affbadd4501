import { requireWhole } from '../../measure/argument.ts'
import { type Draft, HOLES, type Tablet } from '../draft.ts'
import { longestFloat } from '../floats.ts'
import { weave } from '../weave.ts'
import type { Turning } from '../woven.ts'
import { isMirrorOf } from './likeness.ts'
import type { CellChange, Misprint, PropertyKey, StatedProperties } from './misprint.ts'

/** Places where each stated property fails. */
type Places = Map<PropertyKey, number>

/** One tablet as typed or changed: its turns and what it shows, pick by pick. */
interface Column {
  readonly tablet: Tablet
  readonly turns: Int8Array
  readonly net: number
  /** Colour keys; null where nothing shows. */
  readonly face: readonly (string | null)[]
}

/**
 * A draft on which single changes are tried. What each tablet contributes to each property is known beforehand; a change
 * takes that of its own tablet away and puts the new one in its place.
 */
export class MisprintBench {
  readonly stated: readonly PropertyKey[]
  readonly unmet: readonly { readonly key: PropertyKey; readonly places: number }[]
  readonly #columns: readonly Column[]
  readonly #glide: number
  readonly #picksLike = new Map<string, number>()
  readonly #before: Places
  /** For every stated property that fails, the tablets in which all its places lie. */
  readonly #canMend = new Map<PropertyKey, ReadonlySet<number>>()

  constructor(
    readonly draft: Draft,
    readonly turning: Turning,
    readonly properties: StatedProperties,
  ) {
    const { tablets, picks } = turning
    if (draft.tablets.length !== tablets) {
      throw new RangeError(`turning.tablets must be the draft's ${draft.tablets.length}, got ${tablets}`)
    }
    const { longestFloat: most, face } = properties
    if (most !== undefined) requireWhole('longestFloat', most, 1)
    if (face === 'glide' && picks % 2 !== 0) throw new RangeError(`a glide needs an even number of picks, got ${picks}`)
    this.#glide = face === 'glide' ? picks / 2 : 0
    this.stated = listStated(properties)
    this.#columns = draft.tablets.map((tablet, at) =>
      columnOf(
        tablet,
        Int8Array.from({ length: picks }, (_, pick) => turning.turns[pick * tablets + at]!),
      ),
    )
    for (let pick = 0; pick < picks; pick++) {
      const row = this.#rowAt(pick)
      this.#picksLike.set(row, (this.#picksLike.get(row) ?? 0) + 1)
    }
    this.#before = new Map(this.stated.map((key) => [key, this.#placesInAll(key)]))
    this.unmet = this.stated.flatMap((key) => {
      const places = this.#before.get(key)!
      return places > 0 ? [{ key, places }] : []
    })
    for (const { key, places } of this.unmet) {
      const able = this.#columns.flatMap((column, at) => (this.#placesOf(key, at, column) === places ? [at] : []))
      this.#canMend.set(key, new Set(able))
    }
  }

  /** Numbered from 1, rising. */
  tabletsThatCanMend(): number[] {
    const able = new Set([...this.#canMend.values()].flatMap((tablets) => [...tablets]))
    return [...able].map((at) => at + 1).sort((a, b) => a - b)
  }

  /** What a change does; undefined when not more of the stated properties hold after it than before. */
  tryChange(change: CellChange): Misprint | undefined {
    const at = change.tablet - 1
    const column = this.#columns[at]!
    // Cheap ones first: most changes mend nothing and are done with here.
    if (change.kind === 'turn' && !this.#mayMendTurn(change, column)) return undefined
    const changed = changeColumn(column, change)
    const restored: PropertyKey[] = []
    const broken: PropertyKey[] = []
    for (const key of this.stated) {
      const before = this.#before.get(key)!
      if (before > 0 && !this.#canMend.get(key)!.has(at)) continue
      const after = before - this.#placesOf(key, at, column) + this.#placesOf(key, at, changed)
      if (before > 0 && after === 0) restored.push(key)
      if (before === 0 && after > 0) broken.push(key)
    }
    if (restored.length <= broken.length) return undefined
    const own = change.kind === 'turn' ? change.pick - 1 : -1
    return {
      change,
      restored,
      broken,
      met: this.stated.length - this.unmet.length + restored.length - broken.length,
      faceChanges: changed.face.filter((colour, pick) => pick !== own && colour !== column.face[pick]).length,
      equalPicks: change.kind === 'turn' ? this.#picksEqualAfter(change) : 0,
    }
  }

  /** Whether any failing property could hold after a turn was changed, by what can be said without weaving the tablet. */
  #mayMendTurn({ pick, tablet, was, now }: CellChange & { kind: 'turn' }, column: Column): boolean {
    const at = tablet - 1
    const net = column.net - was + now
    return this.unmet.some(({ key }) => {
      if (!this.#canMend.get(key)!.has(at)) return false
      if (key === 'neutral') return net === 0
      if (key === 'closes') return net % 4 === 0
      if (key === 'turning') return this.#columns[this.#partner(at)]!.turns[pick - 1] === now
      return key !== 'threading'
    })
  }

  #placesInAll(key: PropertyKey): number {
    const each = this.#columns.map((column, at) => this.#placesOf(key, at, column))
    const sum = each.reduce((total, places) => total + places, 0)
    // Both tablets of a pair name the places between them; a place of a middle tablet is named once.
    if (key !== 'threading' && key !== 'turning' && key !== 'face') return sum
    const middle = each.length % 2 === 1 ? each[each.length >> 1]! : 0
    return (sum - middle) / 2 + middle
  }

  /** Places of a property that a tablet has part in, were it so turned and threaded and all others as they are. */
  #placesOf(key: PropertyKey, at: number, column: Column): number {
    if (key === 'neutral') return column.net === 0 ? 0 : 1
    if (key === 'closes') return column.net % 4 === 0 ? 0 : 1
    if (key === 'floats') return longestOn(column) > this.properties.longestFloat! ? 1 : 0
    const partner = this.#partner(at)
    const isMiddle = partner === at
    const other = isMiddle ? column : this.#columns[partner]!
    if (key === 'threading') return isMiddle || isMirrorOf(column.tablet, other.tablet) ? 0 : 1
    if (key === 'turning') return isMiddle ? 0 : countUnlike(column.turns, other.turns, 0)
    const unlike = countUnlike(column.face, other.face, this.#glide)
    return unlike
  }

  #partner(at: number): number {
    return this.#columns.length - 1 - at
  }

  #rowAt(pick: number, changedAt = -1, now = 0): string {
    return String.fromCharCode(...this.#columns.map(({ turns }, at) => (at === changedAt ? now : turns[pick]!) + 8))
  }

  #picksEqualAfter({ pick, tablet, now }: CellChange & { kind: 'turn' }): number {
    return this.#picksLike.get(this.#rowAt(pick - 1, tablet - 1, now)) ?? 0
  }
}

function listStated({ neutral, closes, threading, turning, longestFloat, face }: StatedProperties): PropertyKey[] {
  const said = { neutral, closes, threading, turning, floats: longestFloat !== undefined, face: face !== undefined }
  return (Object.keys(said) as PropertyKey[]).filter((key) => said[key])
}

/** How often the second, some picks on, is not what the first is. */
function countUnlike<T>(one: ArrayLike<T>, other: ArrayLike<T>, on: number): number {
  let unlike = 0
  for (let pick = 0; pick < one.length; pick++) if (one[pick] !== other[(pick + on) % one.length]) unlike++
  return unlike
}

function columnOf(tablet: Tablet, turns: Int8Array): Column {
  const woven = weave(aloneWith(tablet), { tablets: 1, picks: turns.length, turns })
  return { tablet, turns, net: woven.net[0]!, face: Array.from(woven.face, (hole) => tablet.holes[hole] ?? null) }
}

function changeColumn({ tablet, turns }: Column, change: CellChange): Column {
  if (change.kind === 'turn') return columnOf(tablet, turns.with(change.pick - 1, change.now))
  if (change.kind === 'threading') return columnOf({ ...tablet, threading: change.now }, turns)
  const [a, b, c, d] = tablet.holes.with(HOLES.indexOf(change.hole), change.now)
  return columnOf({ ...tablet, holes: [a!, b!, c!, d!] }, turns)
}

function longestOn({ tablet, turns }: Column): number {
  const draft = aloneWith(tablet)
  const woven = weave(draft, { tablets: 1, picks: turns.length, turns })
  const { face, reverse } = longestFloat(draft, woven, { overSeam: true })
  return Math.max(face, reverse)
}

const aloneWith = (tablet: Tablet): Draft => ({ title: '', colours: {}, weft: '', tablets: [tablet], picks: [] })
