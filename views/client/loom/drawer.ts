/** What becomes of something that is to be kept on this device. */
export type Outcome = 'kept' | 'full'

/** This browser's storage, which may be full or closed; what it would not take is remembered until the page goes. */
export interface Drawer {
  read(name: string): string | undefined
  write(name: string, text: string): Outcome
  remove(name: string): void
  /** Names that begin so, in order. */
  list(beginning: string): string[]
}

export function openDrawer(): Drawer {
  const homeless = new Map<string, string>()
  const quietly = <T>(work: () => T): T | undefined => {
    try {
      return work()
    } catch {
      return undefined
    }
  }
  return {
    read: (name) => homeless.get(name) ?? quietly(() => localStorage.getItem(name)) ?? undefined,
    write(name, text) {
      homeless.delete(name)
      const isKept = quietly(() => (localStorage.setItem(name, text), true)) ?? false
      if (!isKept) homeless.set(name, text)
      return isKept ? 'kept' : 'full'
    },
    remove(name) {
      homeless.delete(name)
      quietly(() => localStorage.removeItem(name))
    },
    list(beginning) {
      const kept = quietly(() => Object.keys(localStorage)) ?? []
      return [...new Set([...kept, ...homeless.keys()])].filter((name) => name.startsWith(beginning)).sort()
    },
  }
}

/** 32 hex digits by chance; `randomUUID` is not there on plain http. */
export const newUid = (): string =>
  [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('')
