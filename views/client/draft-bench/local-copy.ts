import type { Draft } from '../../../shared/draft/draft.ts'
import type { Mark } from './desk.ts'

/** What this browser holds because the notebook could not be reached. */
export interface LocalCopy {
  readonly document: Draft
  readonly base: number
  /** An instant, ISO. */
  readonly savedAt: string
}

/** Lines that stand in a text box and are not taken over. */
export interface LocalWords {
  readonly text: string
  /** What was marked, for there they were to go. */
  readonly mark: Mark
  /** An instant, ISO. */
  readonly savedAt: string
}

/** What another visit to this bench has left in this browser. */
export interface Left<T> {
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

export interface LocalShelves {
  readonly copies: LocalShelf<LocalCopy>
  readonly turning: LocalShelf<LocalWords>
  readonly threading: LocalShelf<LocalWords>
}

/** So long other windows have to say that they are open. */
const ANSWER_MS = 250

/** @param whose whose copies the browser may speak of */
export function localShelves(address: string, whose: string): LocalShelves {
  const name = `fellmark bench ${whose} ${address}`
  const visit = `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`
  const openElsewhere = askOthers(name, visit)
  return {
    // Before visits had places of their own there were these two.
    copies: shelfOf(`${name} copy `, visit, openElsewhere, [name, `${name} found`]),
    turning: shelfOf(`${name} turning `, visit, openElsewhere),
    threading: shelfOf(`${name} threading `, visit, openElsewhere),
  }
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
      return found.sort((a, b) => (a.value.savedAt < b.value.savedAt ? -1 : 1))
    },
  }
}

function leftAt<T>(key: string): Left<T>[] {
  const text = quietly(() => localStorage.getItem(key)) ?? undefined
  // What cannot be read is nothing to offer; what is on the server is still there.
  const value = text === undefined ? undefined : quietly(() => JSON.parse(text) as T | null)
  if (text === undefined || !value) return []
  const clear = () =>
    quietly(() => {
      if (localStorage.getItem(key) === text) localStorage.removeItem(key)
    })
  return [{ value, clear }]
}

/** A browser that keeps nothing has nothing to tell and nothing to forget. */
function quietly<T>(act: () => T): T | undefined {
  try {
    return act()
  } catch {
    return undefined
  }
}

/** Which visits to this bench are open in other windows: what they hold is still in hand there. */
async function askOthers(name: string, visit: string): Promise<ReadonlySet<string>> {
  const open = new Set<string>()
  const line = new BroadcastChannel(name)
  line.addEventListener('message', ({ data }: MessageEvent<{ readonly here?: string }>) => {
    if (data.here === undefined) line.postMessage({ here: visit })
    else open.add(data.here)
  })
  line.postMessage({})
  await new Promise((resolve) => setTimeout(resolve, ANSWER_MS))
  return open
}
