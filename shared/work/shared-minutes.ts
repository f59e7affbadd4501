/** A stretch of work of somebody, on whole minutes; without times where only its length is known. */
export interface MakersTime {
  readonly maker: string
  readonly startedAt: string | undefined
  readonly endedAt: string | undefined
}

/**
 * Minutes that stand in more than one sitting of the same maker, so that a sum counts them twice.
 * @param sittings in any order; names of makers differ by more than their capitals
 * @returns for each sitting, in the order given, how many of its minutes one that began earlier has already (of two that
 *   began together, the one that stands first): the sum of all minutes less the sum of these is the time that really passed
 * @example two of Runa's, 10:00 to 11:00 and 10:30 to 12:00 // [0, 30]
 * Source: our own.
 */
export function listSharedMinutes(sittings: readonly MakersTime[]): number[] {
  const shared = sittings.map(() => 0)
  const covered = new Map<string, number>()
  const timed = sittings.flatMap(({ maker, startedAt, endedAt }, at) =>
    startedAt === undefined || endedAt === undefined
      ? []
      : [{ at, whose: maker.toLowerCase(), from: toMinute(startedAt), to: toMinute(endedAt) }],
  )
  timed.sort((left, right) => left.from - right.from || left.at - right.at)
  for (const { at, whose, from, to } of timed) {
    const until = covered.get(whose) ?? from
    shared[at] = Math.max(0, Math.min(to, until) - from)
    covered.set(whose, Math.max(until, to))
  }
  return shared
}

const toMinute = (at: string) => Math.round(Date.parse(at) / 60_000)
