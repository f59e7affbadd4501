import { isStepName, shelfOf } from '../../../shared/loom/queue.ts'

// Steps that were not sent stay on the device whatever happens: they are the work of hours, and hold nothing but places.

const names = (base: string): string[] => {
  try {
    return Object.keys(localStorage).filter((name) => name.startsWith(shelfOf(base)))
  } catch {
    return []
  }
}

/** Asks before somebody signs out whose steps at the loom are not sent yet. @returns whether to go on */
export function mayLeaveLoom(base: string): boolean {
  const waiting = names(base).filter(isStepName).length
  if (waiting === 0) return true
  const steps = waiting === 1 ? '1 step at the loom is' : `${waiting} steps at the loom are`
  return confirm(
    `${steps} not in the notebook yet. They stay on this device and are sent when you sign in on it again. Sign out?`,
  )
}

/** What a member leaves behind: the pages that open without network, and where their work stands; not what is not sent. */
export async function clearLoom(base: string): Promise<void> {
  for (const name of names(base)) if (name.endsWith(':last')) localStorage.removeItem(name)
  try {
    for (const name of await caches.keys()) if (name.startsWith(`fellmark-loom ${base}`)) await caches.delete(name)
    for (const registration of await navigator.serviceWorker.getRegistrations())
      if (registration.active?.scriptURL === new URL(`${base}loom/worker.js`, location.origin).href)
        await registration.unregister()
  } catch {
    // On plain http there are neither.
  }
}

/** The pages that another member left here by closing the browser are not for whoever signs in after them. */
export function clearLoomOfOthers(base: string, whose: string): void {
  const name = `${shelfOf(base)}whose`
  try {
    const before = localStorage.getItem(name)
    if (before === whose) return
    localStorage.setItem(name, whose)
    if (before !== null) void clearLoom(base)
  } catch {
    // Storage that is closed holds nothing of anybody's.
  }
}
