import type { Running } from '../support/server.ts'

/** @throws when it has not come about within a minute */
export async function waitUntil(what: string, isSo: () => boolean): Promise<void> {
  const end = performance.now() + 60_000
  while (!isSo()) {
    if (performance.now() > end) throw new Error(`It has not come about within a minute: ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 2))
  }
}

/**
 * @returns the exit code
 * @throws when it has not ended within ten seconds, which is what systems wait before they kill
 */
export async function within10s({ ended, said }: Pick<Running, 'ended' | 'said'>): Promise<number | null> {
  let timer: NodeJS.Timeout | undefined
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`It has not ended within ten seconds: ${said()}`)), 10_000)
  })
  try {
    return await Promise.race([ended, late])
  } finally {
    clearTimeout(timer)
  }
}
