import { MOST_PICKS } from '../draft.ts'
import type { Turning } from '../woven.ts'
import { BLOCK_NAMES } from './memory-form.ts'
import { readNumber } from './spoken-number.ts'
import { TURN_SAID } from './spoken-pick.ts'

export type ReadMemory =
  | { readonly ok: true; readonly turning: Turning }
  /** `word` is counted from 1. */
  | { readonly ok: false; readonly word: number; readonly message: string }

type Row = readonly number[]

class Unread extends Error {
  constructor(
    readonly at: number,
    message: string,
  ) {
    super(message)
  }
}

/**
 * Reads a form to be remembered back into the turning. It goes by the words alone; stops, commas and capitals are not
 * looked at, for nobody hears them. Numbers may be figures.
 *
 *     form  = [ "each pick" times ] { "the" NAME "is" steps } "the whole repeat is" steps
 *     steps = step { "then" step }
 *     step  = [ times ] "the" NAME taken  |  [ number "picks" ] ( "the same" taken | pick )
 *     taken = { "mirrored" | "the other way" | "from its end" }
 *     pick  = "all" turn  |  { part }  |  "from both edges" { part } "middle" run
 *     part  = run  |  times run { "and" run }
 *     run   = number turn        times = "twice" | number "times"
 *     turn  = "forward" | "back" | "idle" | "half forward" | "half back"
 *
 * “The same” is the pick told just before.
 * @param tablets how many each pick turns, a whole number from 1
 * @returns the turning, or what is wrong and at which word
 * @example readMemory('The whole repeat is: two picks all forward, then two picks all back.', 24) // 4 picks
 * @example readMemory('The whole repeat is: the wave.', 24) // { ok: false, word: 6, message: '“wave” was not told before.' }
 * Source: our own grammar.
 */
export function readMemory(text: string, tablets: number): ReadMemory {
  const words = text.toLowerCase().match(/[a-z0-9-]+/g) ?? []
  try {
    const rows = new Reader(words, tablets).readForm()
    const turns = new Int8Array(rows.length * tablets)
    rows.forEach((row, pick) => turns.set(row, pick * tablets))
    return { ok: true, turning: { tablets, picks: rows.length, turns } }
  } catch (error) {
    if (!(error instanceof Unread)) throw error
    return { ok: false, word: error.at + 1, message: error.message }
  }
}

const TURNS = new Map([...TURN_SAID].map(([turn, said]) => [said, turn]))
const NAMES = new Set(BLOCK_NAMES)

class Reader {
  #at = 0
  readonly #blocks = new Map<string, readonly Row[]>()

  constructor(
    readonly words: readonly string[],
    readonly tablets: number,
  ) {}

  readForm(): readonly Row[] {
    const each = this.#take('each', 'pick') ? this.#times() : 1
    if (each === undefined) throw this.#unread('“Twice” or so many times was expected')
    for (;;) {
      const began = this.#at
      this.#need('the')
      if (this.#take('whole', 'repeat', 'is')) break
      const name = this.#name()
      if (this.#blocks.has(name)) throw new Unread(began + 1, `“${name}” is told twice.`)
      this.#need('is')
      this.#blocks.set(name, this.#steps())
    }
    const rows = this.#steps()
    if (this.#at < this.words.length) throw this.#unread('Nothing was expected after the whole repeat')
    if (rows.length * each > MOST_PICKS) throw new Unread(0, `More than ${MOST_PICKS} picks.`)
    return rows.flatMap((row) => Array.from({ length: each }, () => row))
  }

  #steps(): readonly Row[] {
    const rows: Row[] = []
    do {
      const began = this.#at
      const more = this.#step(rows.at(-1))
      if (rows.length + more.length > MOST_PICKS) throw new Unread(began, `More than ${MOST_PICKS} picks.`)
      for (const row of more) rows.push(row)
    } while (this.#take('then'))
    return rows
  }

  #step(last: Row | undefined): readonly Row[] {
    const began = this.#at
    const picks = readNumber(this.words, this.#at)
    const count = picks && this.words[picks.next] === 'picks' ? picks : undefined
    if (count) this.#at = count.next + 1
    if (this.#take('the', 'same')) {
      if (last === undefined) throw new Unread(began, '“The same” has no pick before it.')
      return this.#repeat(this.#taken([last]), count?.value ?? 1, began)
    }
    if (!count && this.#isBlockNext()) {
      const times = this.#times() ?? 1
      this.#need('the')
      const named = this.#at
      const block = this.#blocks.get(this.#name())
      if (block === undefined) throw new Unread(named, `“${this.words[named]!}” was not told before.`)
      return this.#repeat(this.#taken(block), times, began)
    }
    return this.#repeat([this.#pick()], count?.value ?? 1, began)
  }

  /** `the wave`, `twice the wave` or `three times the wave`, and not `three times two forward`. */
  #isBlockNext(): boolean {
    const before = this.#at
    this.#times()
    const isBlock = this.words[this.#at] === 'the'
    this.#at = before
    return isBlock
  }

  #taken(rows: readonly Row[]): readonly Row[] {
    let taken = rows
    for (;;) {
      if (this.#take('mirrored')) taken = taken.map((row) => row.toReversed())
      else if (this.#take('the', 'other', 'way'))
        taken = taken.map((row) => row.map((turn) => (turn === 0 ? 0 : -turn)))
      else if (this.#take('from', 'its', 'end')) taken = taken.toReversed()
      else return taken
    }
  }

  #repeat(rows: readonly Row[], times: number, began: number): readonly Row[] {
    if (rows.length * times > MOST_PICKS) throw new Unread(began, `More than ${MOST_PICKS} picks.`)
    return Array.from({ length: times }, () => rows).flat()
  }

  #pick(): Row {
    const began = this.#at
    if (this.#take('all')) return new Array<number>(this.tablets).fill(this.#turn())
    const fromBothEdges = this.#take('from', 'both', 'edges')
    const turns: number[] = []
    while (readNumber(this.words, this.#at) || this.words[this.#at] === 'twice') turns.push(...this.#part())
    if (fromBothEdges) {
      const right = turns.toReversed()
      this.#need('middle')
      turns.push(...this.#run(), ...right)
    }
    if (turns.length === 0) throw this.#unread('A pick was expected')
    if (turns.length !== this.tablets) {
      throw new Unread(began, `This pick turns ${turns.length} tablets; there are ${this.tablets}.`)
    }
    return turns
  }

  #part(): number[] {
    const times = this.#times() ?? 1
    const runs = this.#run()
    while (this.#take('and')) runs.push(...this.#run())
    if (runs.length * times > this.tablets) throw this.#unread(`More than ${this.tablets} tablets in one pick, before`)
    return Array.from({ length: times }, () => runs).flat()
  }

  #run(): number[] {
    const count = readNumber(this.words, this.#at)
    if (!count) throw this.#unread('A number was expected')
    if (count.value > this.tablets) throw this.#unread(`There are only ${this.tablets} tablets`)
    this.#at = count.next
    return new Array<number>(count.value).fill(this.#turn())
  }

  #turn(): number {
    const half = this.#take('half') ? 'half ' : ''
    const turn = TURNS.get(half + (this.words[this.#at] ?? ''))
    if (turn === undefined) throw this.#unread('Forward, back, idle, half forward or half back was expected')
    this.#at++
    return turn
  }

  /** `twice` or `three times`; undefined, and nothing taken, when neither stands here. */
  #times(): number | undefined {
    if (this.#take('twice')) return 2
    const count = readNumber(this.words, this.#at)
    if (!count || this.words[count.next] !== 'times') return undefined
    this.#at = count.next + 1
    return count.value
  }

  #name(): string {
    const name = this.words[this.#at]
    if (name === undefined || !NAMES.has(name)) throw this.#unread('The name of a block was expected')
    this.#at++
    return name
  }

  #take(...wanted: string[]): boolean {
    if (!wanted.every((word, at) => this.words[this.#at + at] === word)) return false
    this.#at += wanted.length
    return true
  }

  #need(word: string): void {
    if (!this.#take(word)) throw this.#unread(`“${word}” was expected`)
  }

  #unread(what: string): Unread {
    const found = this.words[this.#at]
    return new Unread(this.#at, `${what}${found === undefined ? '; the words end here.' : `, not “${found}”.`}`)
  }
}
