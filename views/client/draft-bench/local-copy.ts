import type { Draft } from '../../../shared/draft/draft.ts'
import { type Bench, draftOn } from '../../../shared/draft/edit/bench.ts'
import { askOthers } from '../open-elsewhere.ts'
import { copyRoom } from './copy-room.ts'
import type { Mark } from './desk.ts'

/** What this browser holds because the notebook could not be reached. */
export interface LocalCopy {
  readonly document: Draft
  readonly base: number
  /** An instant, ISO. */
  readonly savedAt: string
}

/** Words that stand in a text box and are not taken over. */
export interface LocalWords {
  readonly text: string
  /** What was marked, for there lines of a draft were to go. */
  readonly mark: Mark
  /** An instant, ISO. */
  readonly savedAt: string
}

/** What another visit to this bench has left in this browser. */
export interface Left<T> {
  /** Of the visit. */
  readonly key: string
  readonly value: T
  /** Takes away what is told here; whatever was put there since stays. */
  clear(): void
}

/** A shelf in this browser for one member's visits to one bench; each visit has a place of its own. */
export interface LocalShelf<T> {
  /** @returns false when the browser has no room or allows none */
  write(value: T): boolean
  /** Clears the place of this visit. */
  clear(): void
  /** What visits that are over have left, the oldest first. */
  listLeft(): Promise<readonly Left<T>[]>
}

/** A copy as it lies on the bench: its turns are bytes, which are put away hundreds of times as quickly as text. */
export interface HeldCopy extends Omit<LocalCopy, 'document'> {
  readonly bench: Bench
}

/** The same for copies, which may be large: putting one away keeps nobody waiting, but for the moment of closing. */
export interface CopyShelf extends Pick<LocalShelf<LocalCopy>, 'clear' | 'listLeft'> {
  /** @returns false when the browser has no room or allows none */
  hold(copy: HeldCopy): Promise<boolean>
  /** Before the page is gone, which waits for nothing. */
  holdNow(copy: HeldCopy): void
}

export interface LocalShelves {
  readonly copies: CopyShelf
  readonly turning: LocalShelf<LocalWords>
  readonly threading: LocalShelf<LocalWords>
  readonly note: LocalShelf<LocalWords>
}

/** @param whose whose copies the browser may speak of */
export function localShelves(address: string, whose: string): LocalShelves {
  const name = `fellmark bench ${whose} ${address}`
  const visit = `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`
  // Visits to this bench that are open in other windows.
  const openElsewhere = askOthers(name, () => [visit])
  return {
    // Before visits had places of their own there were these two.
    copies: copyShelf(`${name} copy `, visit, openElsewhere, [name, `${name} found`]),
    turning: shelfOf(`${name} turning `, visit, openElsewhere),
    threading: shelfOf(`${name} threading `, visit, openElsewhere),
    note: shelfOf(`${name} note `, visit, openElsewhere),
  }
}

function copyShelf(
  prefix: string,
  visit: string,
  openElsewhere: Promise<ReadonlySet<string>>,
  older: readonly string[],
): CopyShelf {
  const room = copyRoom<HeldCopy>()
  const small = shelfOf<LocalCopy>(prefix, visit, openElsewhere, older)
  const own = prefix + visit
  let holds = false
  return {
    async hold(copy) {
      holds = true
      return (await room.put(own, copy)) || small.write(written(copy))
    },
    holdNow(copy) {
      holds = true
      if (!small.write(written(copy))) void room.put(own, copy)
    },
    clear() {
      if (!holds) return
      holds = false
      small.clear()
      void room.remove(own)
    },
    async listLeft() {
      const open = await openElsewhere
      const large = (await room.list(prefix)).filter(({ key }) => key !== own && !open.has(key.slice(prefix.length)))
      const read = large.flatMap((one) => {
        const value = quietly(() => written(one.value))
        return value ? [{ ...one, value }] : []
      })
      return newestOfEach([...read, ...(await small.listLeft())])
    },
  }
}

const written = ({ bench, base, savedAt }: HeldCopy): LocalCopy => ({ document: draftOn(bench), base, savedAt })

/** A visit that closed may have left a copy in both places; the later one holds everything that the other does. */
function newestOfEach(found: readonly Left<LocalCopy>[]): Left<LocalCopy>[] {
  const visits = [...new Set(found.map(({ key }) => key))].map((visit) => found.filter(({ key }) => key === visit))
  const left = visits.map((some) => ({
    key: some[0]!.key,
    value: some.map(({ value }) => value).reduce((one, other) => (other.savedAt > one.savedAt ? other : one)),
    clear: () => some.forEach(({ clear }) => clear()),
  }))
  return left.sort(byAge)
}

function shelfOf<T extends { readonly savedAt: string }>(
  prefix: string,
  visit: string,
  openElsewhere: Promise<ReadonlySet<string>>,
  older: readonly string[] = [],
): LocalShelf<T> {
  const own = prefix + visit
  return {
    write(value) {
      try {
        localStorage.setItem(own, JSON.stringify(value))
        return true
      } catch {
        return false
      }
    },
    clear: () => quietly(() => localStorage.removeItem(own)),
    async listLeft() {
      const open = await openElsewhere
      const isLeft = (key: string) =>
        older.includes(key) || (key.startsWith(prefix) && key !== own && !open.has(key.slice(prefix.length)))
      const found = (quietly(() => Object.keys(localStorage)) ?? []).filter(isLeft).flatMap((key) => leftAt<T>(key))
      return found.sort(byAge)
    },
  }
}

const byAge = (a: Left<{ readonly savedAt: string }>, b: Left<{ readonly savedAt: string }>) =>
  a.value.savedAt < b.value.savedAt ? -1 : 1

function leftAt<T>(key: string): Left<T>[] {
  const text = quietly(() => localStorage.getItem(key)) ?? undefined
  // What cannot be read is nothing to offer; what is on the server is still there.
  const value = text === undefined ? undefined : quietly(() => JSON.parse(text) as T | null)
  if (text === undefined || !value) return []
  const clear = () =>
    quietly(() => {
      if (localStorage.getItem(key) === text) localStorage.removeItem(key)
    })
  return [{ key, value, clear }]
}

/** A browser that keeps nothing has nothing to tell and nothing to forget. */
function quietly<T>(act: () => T): T | undefined {
  try {
    return act()
  } catch {
    return undefined
  }
}
