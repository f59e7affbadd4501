import type { Bench, Block } from '../../../shared/draft/edit/bench.ts'
import { applyEdit, type Edit, isRefused, type Refused } from '../../../shared/draft/edit/step.ts'
import { type Followed, followEdit, type LiveWeave, startLiveWeave } from '../../../shared/draft/edit/live-weave.ts'
import { type History, type Moved, NO_HISTORY, redo, remember, undo } from '../../../shared/draft/edit/history.ts'
import type { ColourKey, Draft } from '../../../shared/draft/draft.ts'

/** A turn of the band: tablet and pick, from 0. */
export interface Place {
  readonly tablet: number
  readonly pick: number
}

/** What is marked: from `anchor` to `cursor`, or these tablets instead of those between the two. */
export interface Mark {
  readonly anchor: Place
  readonly cursor: Place
  readonly tablets?: readonly number[]
}

export type News =
  | { readonly kind: 'edit'; readonly followed: Followed }
  | { readonly kind: 'mark' | 'tried' | 'settled' }
  | { readonly kind: 'told'; readonly text: string }

/** The one place where the draft on the bench stands; everything on the page listens to it. */
export interface Desk {
  readonly bench: Bench
  readonly live: LiveWeave
  readonly history: History
  readonly mark: Mark
  readonly block: Block
  /** Hex colours that are tried on the band, by colour key. */
  readonly tried: Readonly<Record<ColourKey, string>>
  /** The draft as it is drawn: with the tried colours; its picks are not written out. */
  readonly shown: Draft
  /** Goes up with every edit: whether something was done since can be asked by it. */
  readonly edits: number
  /** Does an edit, or tells why not. @param joins with the edit before, as one stroke */
  make(edit: Edit | Refused, joins?: boolean): boolean
  undo(): void
  redo(): void
  setMark(mark: Mark): void
  setTried(tried: Readonly<Record<ColourKey, string>>): void
  tell(text: string): void
  /** A stroke of the hand is over. */
  settle(): void
  listen(listener: (news: News) => void): void
}

export function openDesk(first: Bench): Desk {
  const listeners: ((news: News) => void)[] = []
  const say = (news: News) => listeners.forEach((listener) => listener(news))
  let bench = first
  let history = NO_HISTORY
  let mark: Mark = { anchor: { tablet: 0, pick: 0 }, cursor: { tablet: 0, pick: 0 } }
  let tried: Readonly<Record<ColourKey, string>> = {}
  let edits = 0
  const live = startLiveWeave(bench)

  const follow = (edit: Edit, next: Bench) => {
    const followed = followEdit(live, bench, edit, next)
    bench = next
    edits++
    mark = within(mark, bench)
    tried = Object.fromEntries(Object.entries(tried).filter(([key]) => Object.hasOwn(bench.colours, key)))
    say({ kind: 'edit', followed })
  }
  const go = (moved: Moved | undefined, done: string, nothing: string) => {
    if (!moved) return say({ kind: 'told', text: nothing })
    const { label } = (done === 'Undone' ? history.done : history.undone)!.edit
    history = moved.history
    follow(moved.edit, moved.bench)
    say({ kind: 'told', text: `${done}: ${label}.` })
    say({ kind: 'settled' })
  }

  return {
    live,
    get bench() {
      return bench
    },
    get history() {
      return history
    },
    get mark() {
      return mark
    },
    get block() {
      return blockOf(mark)
    },
    get tried() {
      return tried
    },
    get shown() {
      return shownOf(bench, tried)
    },
    get edits() {
      return edits
    },
    make(edit, joins = false) {
      if (isRefused(edit)) {
        say({ kind: 'told', text: edit.why })
        return false
      }
      if (edit.steps.length === 0) return false
      history = remember(history, edit, joins)
      follow(edit, applyEdit(bench, edit))
      return true
    },
    undo: () => go(undo(bench, history), 'Undone', 'Nothing is left to take back.'),
    redo: () => go(redo(bench, history), 'Done again', 'Nothing is left to do again.'),
    setMark(next) {
      mark = within(next, bench)
      say({ kind: 'mark' })
    },
    setTried(next) {
      tried = next
      say({ kind: 'tried' })
    },
    tell: (text) => say({ kind: 'told', text }),
    settle: () => say({ kind: 'settled' }),
    listen: (listener) => void listeners.push(listener),
  }
}

function shownOf({ title, colours, weft, tablets }: Bench, tried: Readonly<Record<ColourKey, string>>): Draft {
  const hexed = Object.entries(colours).map(([key, colour]) => [key, { ...colour, hex: tried[key] ?? colour.hex }])
  return { title, colours: Object.fromEntries(hexed) as Draft['colours'], weft, tablets, picks: [] }
}

/** The block that a mark stands for. */
function blockOf({ anchor, cursor, tablets }: Mark): Block {
  const [low, high] = [Math.min(anchor.tablet, cursor.tablet), Math.max(anchor.tablet, cursor.tablet)]
  return {
    tablets: tablets ?? Array.from({ length: high - low + 1 }, (_, at) => low + at),
    from: Math.min(anchor.pick, cursor.pick),
    to: Math.max(anchor.pick, cursor.pick),
  }
}

function within({ anchor, cursor, tablets }: Mark, { turning }: Bench): Mark {
  const hold = ({ tablet, pick }: Place): Place => ({
    tablet: Math.max(0, Math.min(tablet, turning.tablets - 1)),
    pick: Math.max(0, Math.min(pick, turning.picks - 1)),
  })
  const left = tablets?.filter((tablet) => tablet < turning.tablets)
  const held = { anchor: hold(anchor), cursor: hold(cursor) }
  return left && left.length > 0 ? { ...held, tablets: left } : held
}
