/** What a key does at the loom. */
export type KeyTask = 'next' | 'back'

/** Names of keys as `KeyboardEvent.key` has them. */
export type KeyMap = Readonly<Record<KeyTask, readonly string[]>>

/** What keyboards and page-turner pedals send: common practice, no source. */
export const USUAL_KEYS: KeyMap = {
  next: ['PageDown', 'ArrowRight', 'ArrowDown', ' ', 'Enter', 'n'],
  back: ['PageUp', 'ArrowLeft', 'ArrowUp', 'Backspace', 'b'],
}

/** Two presses within this time are one: pedals bounce, and a hand in a hurry taps twice. */
export const BOUNCE_MS = 250

/** More taught keys than this are a mistake. */
const MOST_TAUGHT = 12

/**
 * What a key does; undefined where it does nothing here.
 * @param taught on this device; a taught key comes before a usual one
 */
export function taskOf(key: string, taught: KeyMap): KeyTask | undefined {
  for (const keys of [taught, USUAL_KEYS])
    for (const task of ['next', 'back'] as const) if (keys[task].includes(key)) return task
  return undefined
}

/** The map with one more key taught; what it did before it does no more. */
export function teach(taught: KeyMap, task: KeyTask, key: string): KeyMap {
  const without = (keys: readonly string[]) => keys.filter((each) => each !== key)
  const others = { next: without(taught.next), back: without(taught.back) }
  return { ...others, [task]: [...others[task], key].slice(-MOST_TAUGHT) }
}

/** A key as people name it. */
export const sayKey = (key: string): string => (key === ' ' ? 'space' : key)

/**
 * Lets a press through when it is none of a held key and comes 250 ms after the last one that was let through.
 * @returns a function of the press's instant in milliseconds, on a clock that never goes back
 */
export function newGate(): (atMs: number, isHeld: boolean) => boolean {
  let last = -Infinity
  return (atMs, isHeld) => {
    if (isHeld || atMs - last < BOUNCE_MS) return false
    last = atMs
    return true
  }
}
