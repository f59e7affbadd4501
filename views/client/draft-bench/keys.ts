import { paintBlock, turnOver, type Turn } from '../../../shared/draft/edit/turn-edit.ts'
import type { Desk, Place } from './desk.ts'

export interface Hand {
  /** What the hand paints; undefined while it only marks. */
  brush(): Turn | undefined
  /** Whether painting goes over the whole pack of a tablet. */
  packs(): boolean
  /** Whether F, B and I paint. */
  letters(): boolean
}

const LETTERS: Readonly<Record<string, Turn>> = { f: 1, b: -1, i: 0 }

/** The keyboard on the band. */
export function listenToKeys(grid: HTMLElement, desk: Desk, hand: Hand, show: () => void): void {
  grid.addEventListener('keydown', (event) => {
    if (event.altKey) return
    const { key } = event
    const command = event.ctrlKey || event.metaKey
    const target = command && !['Home', 'End'].includes(key) ? undefined : placeAfter(desk, key, command)
    if (target) move(desk, target, event.shiftKey)
    else if (command && key.toLowerCase() === 'a') markAll(desk)
    else if (command) return
    else if (key === 'Escape') desk.setMark({ anchor: desk.mark.cursor, cursor: desk.mark.cursor })
    else if (key === ' ') paint(desk, hand.brush())
    else if (key === 'Enter') done(desk, desk.make(turnOver(desk.bench, desk.block)))
    else if (hand.letters() && !event.shiftKey && Object.hasOwn(LETTERS, key.toLowerCase())) {
      paint(desk, LETTERS[key.toLowerCase()])
    } else return
    event.preventDefault()
    show()
  })
}

/** Undo and redo wherever one is on the page, except where one types: there the browser's own goes on. */
export function listenToUndo(desk: Desk): void {
  addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || isTyping(event.target)) return
    const key = event.key.toLowerCase()
    if (key === 'z') event.shiftKey ? desk.redo() : desk.undo()
    else if (key === 'y' && !event.shiftKey) desk.redo()
    else return
    event.preventDefault()
  })
}

const isTyping = (target: EventTarget | null) =>
  target instanceof HTMLTextAreaElement ||
  (target instanceof HTMLInputElement && !['radio', 'checkbox', 'color', 'button'].includes(target.type))

function paint(desk: Desk, brush: Turn | undefined): void {
  if (brush === undefined) return desk.tell('The hand only marks. Choose a turn to paint with.')
  done(desk, desk.make(paintBlock(desk.bench, desk.block, brush)))
}

function done(desk: Desk, changed: boolean): void {
  desk.tell(changed ? `Done: ${desk.history.done!.edit.label}.` : 'Nothing to change: it is so already.')
  if (changed) desk.settle()
}

/** Where a key leads from the cursor: tablets lie one under the other, picks go on to the right. */
function placeAfter({ mark, bench }: Desk, key: string, command: boolean): Place | undefined {
  const { tablet, pick } = mark.cursor
  const last = { tablet: bench.turning.tablets - 1, pick: bench.turning.picks - 1 }
  switch (key) {
    case 'ArrowUp':
      return { tablet: tablet - 1, pick }
    case 'ArrowDown':
      return { tablet: tablet + 1, pick }
    case 'ArrowLeft':
      return { tablet, pick: pick - 1 }
    case 'ArrowRight':
      return { tablet, pick: pick + 1 }
    case 'PageUp':
      return { tablet, pick: pick - 10 }
    case 'PageDown':
      return { tablet, pick: pick + 10 }
    case 'Home':
      return command ? { tablet: 0, pick: 0 } : { tablet, pick: 0 }
    case 'End':
      return command ? last : { tablet, pick: last.pick }
    default:
      return undefined
  }
}

function move(desk: Desk, place: Place, extend: boolean): void {
  desk.setMark({ anchor: extend ? desk.mark.anchor : place, cursor: place })
}

function markAll({ bench, setMark }: Desk): void {
  const { tablets, picks } = bench.turning
  setMark({ anchor: { tablet: 0, pick: 0 }, cursor: { tablet: tablets - 1, pick: picks - 1 } })
}
