/** A device whose clock is off by no more than this is believed as it is. Our own. */
export const TOLERATED_MS = 5_000

/** What is known of when a step was made. Instants are in milliseconds since 1970. */
export interface Clocked {
  readonly seq: number
  /** As the clock of the device said. */
  readonly deviceMs: number
  /** Of the latest step that the server had told of when this one was made; undefined where it had told of none. */
  readonly afterMs: number | undefined
}

/**
 * Reckons steps of one device onto the server's clock, so that their order is kept whatever its clock did.
 * A clock that is off by more than 5 s is put right by as much as it was off at the moment of sending. No step lies in
 * the future, none before the one that the device made before it, and none before what it knew of when it was made:
 * where the clock says so it was put forward or back in between, and the step is moved by as little as will do.
 * @param steps of one device, in the order of their numbers
 * @param sentMs what the device's clock said when they were sent; undefined where nobody knows: then it is believed
 * @param receivedMs on the server's clock
 * @param floorMs of the device's last step before these; undefined where there is none
 * @returns one instant a step, in milliseconds
 * @example a device 60 s behind that sends a step of 09:00:00 at 09:00:01, received at 09:01:01: 09:01:00
 * Source: our own.
 */
export function reckon(
  steps: readonly Clocked[],
  sentMs: number | undefined,
  receivedMs: number,
  floorMs: number | undefined,
): number[] {
  const off = sentMs === undefined ? 0 : receivedMs - sentMs
  const correction = Math.abs(off) > TOLERATED_MS ? off : 0
  const at = steps.map(({ deviceMs }) => deviceMs + correction)
  let next = receivedMs + 1
  for (let index = at.length - 1; index >= 0; index--) at[index] = next = Math.min(at[index]!, next - 1)
  let before = floorMs ?? -Infinity
  return at.map((ms, index) => (before = Math.max(ms, before + 1, (steps[index]!.afterMs ?? -Infinity) + 1)))
}
