import type { Desk, Mark, Place } from './desk.ts'
import type { Left, LocalShelf, LocalWords } from './local-copy.ts'
import { ask, timeOf } from './notice.ts'

/** A text box whose words go into the draft only when somebody says so. */
export interface WordBox {
  readonly area: HTMLTextAreaElement
  /** As the page calls it. */
  readonly name: string
  /** Where the page says that words came back. */
  readonly returned: HTMLElement
  /** How the page speaks of them. */
  readonly words: {
    /** What was typed, and what has not become of it: `lines`, `taken`. */
    readonly what: string
    readonly done: string
    /** What to do first when others stand there. */
    readonly first: string
  }
  /** Whether they are for what was marked. */
  readonly isForMark: boolean
  /** Whether words stand in it that are not taken. */
  isTyped(): boolean
  put(text: string): void
}

/** So long after a key the words are kept. */
const REST_MS = 300

/** Keeps in this browser what stands in a box and is not taken, and puts back what an earlier visit left there. */
export function keepWords(box: WordBox, desk: Desk, shelf: LocalShelf<LocalWords>, notices: HTMLElement): () => void {
  let due = 0
  let holds = false
  const isWorth = () => box.isTyped() && box.area.value.trim() !== ''
  /** @returns false when this browser has no room for them */
  const { what, done, first } = box.words
  const keep = (): boolean => {
    clearTimeout(due)
    if (!isWorth()) {
      box.returned.hidden = true
      if (holds) shelf.clear()
      holds = false
      return true
    }
    holds = true
    return shelf.write({ text: box.area.value, mark: desk.mark, savedAt: new Date().toISOString() })
  }
  const putBack = ({ value, clear }: Left<LocalWords>) => {
    box.put(value.text)
    box.returned.textContent = `Put back into the box: ${what} typed ${timeOf(value.savedAt)} and not ${done}.`
    box.returned.hidden = false
    // Now they are of this visit.
    if (keep()) clear()
  }
  const offer = (left: Left<LocalWords>) => {
    const { text, savedAt } = left.value
    const put = () => {
      if (box.isTyped()) {
        desk.tell(`Other ${what} stand in the box. ${first}`)
        return false
      }
      putBack(left)
      box.area.focus()
      return true
    }
    const words = `This browser holds ${what} typed ${timeOf(savedAt)} under “${box.name}” and not ${done}:`
    ask(
      notices,
      words,
      [
        ['Put them into the box', put],
        ['Throw them away', left.clear],
      ],
      text,
    )
  }
  const findLeft = async () => {
    for (const left of (await shelf.listLeft()).toReversed()) {
      if (box.area.value === left.value.text && box.isTyped()) left.clear()
      else if (box.isTyped()) offer(left)
      else {
        if (box.isForMark && isUntouched(desk.mark) && isMark(left.value.mark)) desk.setMark(left.value.mark)
        putBack(left)
        desk.tell(`The ${what} that were typed and not ${done} stand under “${box.name}” again.`)
      }
    }
  }
  void findLeft()
  addEventListener('pagehide', keep)
  return () => {
    clearTimeout(due)
    due = setTimeout(keep, REST_MS) as unknown as number
  }
}

const isUntouched = ({ anchor, cursor, tablets }: Mark) =>
  !tablets && [anchor.tablet, anchor.pick, cursor.tablet, cursor.pick].every((at) => at === 0)

const isPlace = (place: Place | undefined) => Number.isInteger(place?.tablet) && Number.isInteger(place?.pick)

const isMark = (mark: Mark | undefined) =>
  isPlace(mark?.anchor) && isPlace(mark?.cursor) && (mark?.tablets ?? []).every(Number.isInteger)
