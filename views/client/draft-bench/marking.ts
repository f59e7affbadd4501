import { listPacks } from '../../../shared/draft/packs.ts'
import { sayNumbers } from '../../../shared/draft/number-words.ts'
import type { Desk, Place } from './desk.ts'

/** Marking by numbers and buttons: without a drag, and exactly. */
export function listenToMarking(root: HTMLElement, desk: Desk): Readonly<Record<string, () => void>> {
  const tablets = root.querySelector<HTMLInputElement>('[data-bench-mark="tablets"]')!
  const picks = root.querySelector<HTMLInputElement>('[data-bench-mark="picks"]')!
  const problem = root.querySelector<HTMLElement>('[data-bench-problem="mark"]')!
  let from: Place | undefined

  const show = () => {
    const { block } = desk
    if (document.activeElement !== tablets) tablets.value = rangesOf(block.tablets)
    if (document.activeElement !== picks)
      picks.value = rangesOf(
        [block.from, block.to].filter((one, at, all) => all.indexOf(one) === at),
        true,
      )
  }
  const say = (text: string) => {
    problem.textContent = text
    problem.hidden = text === ''
  }
  const mark = () => {
    const { turning } = desk.bench
    const of = readRanges(tablets.value, turning.tablets)
    const over = readRanges(picks.value, turning.picks)
    if (!of) return say(`Tablets are typed like 1-6 or 1-4, 9, from 1 to ${turning.tablets}.`)
    if (!over || over.length !== over.at(-1)! - over[0]! + 1) {
      return say(`Picks are one number or two, like 3-8, from 1 to ${turning.picks}.`)
    }
    say('')
    const anchor = { tablet: of[0]!, pick: over[0]! }
    desk.setMark({ anchor, cursor: { tablet: of.at(-1)!, pick: over.at(-1)! }, tablets: of })
  }
  for (const field of [tablets, picks]) {
    field.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter') return
      event.preventDefault()
      mark()
    })
  }
  desk.listen(({ kind }) => {
    if (kind === 'mark' || kind === 'edit') show()
  })
  show()

  const widen = () => {
    const marked = new Set(desk.block.tablets)
    const packs = listPacks(desk.bench.turning).filter((pack) => pack.some((one) => marked.has(one - 1)))
    const all = packs.flat().map((one) => one - 1)
    all.sort((a, b) => a - b)
    desk.setMark({ ...desk.mark, tablets: all })
    desk.tell(
      `${packs.length === 1 ? 'One pack' : `${packs.length} packs`}: tablets ${sayNumbers(all.map((one) => one + 1))}.`,
    )
  }
  return {
    mark,
    widen,
    markFrom() {
      from = desk.mark.cursor
      desk.tell(
        `A block begins at tablet ${from.tablet + 1}, pick ${from.pick + 1}. Go to its other corner, then “to here”.`,
      )
    },
    markTo() {
      desk.setMark({ anchor: from ?? desk.mark.anchor, cursor: desk.mark.cursor })
      from = undefined
    },
    allTablets() {
      const { anchor, cursor } = desk.mark
      const last = desk.bench.turning.tablets - 1
      desk.setMark({ anchor: { ...anchor, tablet: 0 }, cursor: { ...cursor, tablet: last } })
    },
    allPicks() {
      const { mark, bench } = desk
      const cursor = { ...mark.cursor, pick: bench.turning.picks - 1 }
      desk.setMark({ ...mark, anchor: { ...mark.anchor, pick: 0 }, cursor })
    },
  }
}

/** `1-6, 9` for numbers from 0; with `ends`, two numbers are the ends of one range. */
function rangesOf(numbers: readonly number[], ends = false): string {
  if (ends) return numbers.map((one) => one + 1).join('-')
  const runs: [number, number][] = []
  for (const number of numbers) {
    const last = runs.at(-1)
    if (last && last[1] === number - 1) last[1] = number
    else runs.push([number, number])
  }
  return runs.map(([low, high]) => (low === high ? `${low + 1}` : `${low + 1}-${high + 1}`)).join(', ')
}

/** Numbers from 0, rising, each once; undefined when it cannot be read or leaves 1 to `most`. */
function readRanges(text: string, most: number): number[] | undefined {
  const found = new Set<number>()
  for (const part of text.split(/[,;]/)) {
    const range = /^\s*(\d{1,6})\s*(?:(?:-|–|to)\s*(\d{1,6}))?\s*$/.exec(part)
    if (!range) return undefined
    const [low, high] = [Number(range[1]), Number(range[2] ?? range[1])].sort((a, b) => a - b) as [number, number]
    if (low < 1 || high > most) return undefined
    for (let one = low; one <= high; one++) found.add(one - 1)
  }
  return [...found].sort((a, b) => a - b)
}
