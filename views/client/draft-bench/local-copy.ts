import type { Draft } from '../../../shared/draft/draft.ts'

/** What this browser holds because the notebook could not be reached. */
export interface LocalCopy {
  readonly document: Draft
  readonly base: number
  /** An instant, ISO. */
  readonly savedAt: string
}

/** A shelf in this browser for one member's copy of one draft. */
export interface LocalShelf {
  read(): LocalCopy | undefined
  /** @returns false when the browser has no room or allows none */
  write(copy: LocalCopy): boolean
  clear(): void
  /** What was found on opening and is not decided on yet: nothing that is kept meanwhile takes its place. */
  readonly found: Omit<LocalShelf, 'found'>
}

export function localShelf(address: string, whose: string): LocalShelf {
  const key = `fellmark bench ${whose} ${address}`
  return { ...shelfAt(key), found: shelfAt(`${key} found`) }
}

function shelfAt(key: string): Omit<LocalShelf, 'found'> {
  return {
    read() {
      try {
        const text = localStorage.getItem(key)
        return text === null ? undefined : (JSON.parse(text) as LocalCopy)
      } catch {
        // What cannot be read is no copy; what is on the server is still there.
        return undefined
      }
    },
    write(copy) {
      try {
        localStorage.setItem(key, JSON.stringify(copy))
        return true
      } catch {
        return false
      }
    },
    clear() {
      try {
        localStorage.removeItem(key)
      } catch {
        // A browser that keeps nothing has nothing to forget.
      }
    },
  }
}
