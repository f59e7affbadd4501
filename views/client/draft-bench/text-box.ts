import { replacePicks } from '../../../shared/draft/edit/turn-edit.ts'
import { replaceTablets } from '../../../shared/draft/edit/tablet-edit.ts'
import type { TextProblem } from '../../../shared/draft/entry-line.ts'
import { sayPicks } from '../../../shared/draft/number-words.ts'
import { readPickText } from '../../../shared/draft/pick-text.ts'
import { readThreading } from '../../../shared/draft/threading.ts'
import { writeTablet } from '../../../shared/draft/threading-text.ts'
import { writeTurning } from '../../../shared/draft/turning.ts'
import type { Desk } from './desk.ts'
import { keepWords } from './keep-words.ts'
import type { LocalShelves } from './local-copy.ts'

/** More lines than this are not written into a text box; they are changed on the band or in the form. */
const MOST_LINES = 400

const NAMES = { turning: 'Its picks as text', threading: 'The marked tablets as text' } as const

const WORDS = { what: 'lines', done: 'taken', first: 'Take those first, or put back what is marked.' } as const

interface Box {
  readonly area: HTMLTextAreaElement
  readonly list: HTMLElement
  /** What stood there before somebody typed. */
  written: string
  /** Says whether words stand there that are not taken. */
  tell(): void
  keep(): void
}

/** The marked picks and the marked tablets as text, to be changed there and taken over. */
export function listenToText(
  root: HTMLElement,
  desk: Desk,
  shelves: LocalShelves,
): Readonly<Record<string, () => void>> {
  const notices = root.querySelector<HTMLElement>('[data-bench-notices]')!
  const box = (which: 'turning' | 'threading') => {
    const area = root.querySelector<HTMLTextAreaElement>(`[data-bench-text="${which}"]`)!
    const list = root.querySelector<HTMLElement>(`[data-bench-problems="${which}"]`)!
    const unsaid = root.querySelector<HTMLElement>(`[data-bench-unsaid="${which}"]`)!
    const drop = root.querySelector<HTMLElement>(`[data-do="drop${which[0]!.toUpperCase()}${which.slice(1)}"]`)!
    const returned = root.querySelector<HTMLElement>(`[data-bench-returned="${which}"]`)!
    const own: Box = { area, list, written: '', tell: () => {}, keep: () => {} }
    own.tell = () => {
      unsaid.hidden = drop.hidden = area.value === own.written
      own.keep()
    }
    area.addEventListener('input', own.tell)
    const wordBox = {
      ...{ area, returned, name: NAMES[which], words: WORDS, isForMark: true },
      isTyped: () => area.value !== own.written,
      put(text: string) {
        area.value = text
        own.tell()
      },
    }
    return { own, wordBox }
  }
  const boxes = { turning: box('turning'), threading: box('threading') }
  const [turning, threading] = [boxes.turning.own, boxes.threading.own]

  /** Words that somebody is still changing are left alone until they are taken over or put back. */
  const write = (to: Box, text: string) => {
    if (to.area.value !== to.written) return
    if (to.written === text && to.area.value === text) return
    to.area.value = to.written = text
    to.tell()
    show(to, [])
  }
  const show = ({ area, list }: Box, problems: readonly TextProblem[]) => {
    if (problems.length > 0) area.setAttribute('aria-invalid', 'true')
    else area.removeAttribute('aria-invalid')
    list.replaceChildren(
      ...problems.slice(0, 8).map(({ line, column, message }) => {
        const item = document.createElement('li')
        item.textContent = `Line ${line}, character ${column}: ${message}`
        return item
      }),
    )
  }
  const writeBoth = () => {
    const { block, bench } = desk
    const { tablets, turns } = bench.turning
    const to = Math.min(block.to, block.from + MOST_LINES - 1)
    const rows = turns.subarray(block.from * tablets, (to + 1) * tablets)
    write(turning, writeTurning({ tablets, picks: to - block.from + 1, turns: rows }).join('\n'))
    const [from, last] = [block.tablets[0]!, block.tablets.at(-1)!]
    write(
      threading,
      bench.tablets
        .slice(from, last + 1)
        .map(writeTablet)
        .join('\n'),
    )
  }
  let due = 0
  desk.listen(({ kind }) => {
    if (kind === 'told' || kind === 'tried') return
    clearTimeout(due)
    due = setTimeout(writeBoth, 60) as unknown as number
  })
  writeBoth()
  // Only now can words be told from what was written into the boxes.
  for (const which of ['turning', 'threading'] as const) {
    const { own, wordBox } = boxes[which]
    own.keep = keepWords(wordBox, desk, shelves[which], notices)
  }
  const drop = (from: Box) => {
    from.written = from.area.value
    writeBoth()
    from.tell()
    show(from, [])
    from.area.focus()
  }

  return {
    dropTurning: () => drop(turning),
    dropThreading: () => drop(threading),
    applyTurning() {
      const { bench, block } = desk
      const read = readPickText(turning.area.value, bench.tablets.length)
      show(turning, read.ok ? [] : read.problems)
      if (!read.ok) return desk.tell('These lines cannot be read yet.')
      const to = Math.min(block.to, block.from + MOST_LINES - 1)
      const label = `text of ${sayPicks(block.from + 1, to + 1)}`
      const edit = replacePicks(bench, block.from, to - block.from + 1, read.turning.turns, label)
      finish(
        turning,
        edit,
        { tablet: 0, pick: block.from },
        { tablet: bench.tablets.length - 1, pick: block.from + read.turning.picks - 1 },
      )
    },
    applyThreading() {
      const { bench, block } = desk
      const read = readThreading(threading.area.value, bench.colours)
      show(threading, read.ok ? [] : read.problems)
      if (!read.ok) return desk.tell('These lines cannot be read yet.')
      const [from, to] = [block.tablets[0]!, block.tablets.at(-1)!]
      const edit = replaceTablets(bench, from, to, read.tablets)
      finish(
        threading,
        edit,
        { tablet: from, pick: block.from },
        { tablet: from + read.tablets.length - 1, pick: block.to },
      )
    },
  }

  function finish(
    from: Box,
    edit: Parameters<Desk['make']>[0],
    anchor: Desk['mark']['anchor'],
    cursor: Desk['mark']['cursor'],
  ) {
    const made = desk.make(edit)
    // What is refused stays as it is typed.
    if (made || !('why' in edit)) {
      from.written = from.area.value
      from.tell()
    }
    if (made) {
      desk.setMark({ anchor, cursor })
      desk.tell(`Done: ${desk.history.done!.edit.label}.`)
      desk.settle()
    } else if (!('why' in edit)) desk.tell('Nothing to change: it is so already.')
  }
}
