/** From a figure to its place on the paper, and where the marks of the axis stand. */
export interface Scale {
  readonly at: (value: number) => number
  readonly ticks: readonly { readonly at: number; readonly label: string }[]
}

/**
 * A straight axis over all the values, ended at whole marks.
 * @param values all that must lie on it
 * @param from place of its beginning, `to` of its end, in units of the picture
 * @param startsAtZero whether 0 is on it although no value is
 */
export function toScale(values: readonly number[], from: number, to: number, startsAtZero: boolean): Scale {
  const least = Math.min(...values, startsAtZero ? 0 : Infinity)
  const most = Math.max(...values, startsAtZero ? 0 : -Infinity)
  const step = toStep(most - least || Math.abs(most) || 1)
  const [low, high] = [Math.floor(least / step + 1e-9) * step, Math.ceil(most / step - 1e-9) * step]
  const end = high > low ? high : low + step
  const at = (value: number) => from + ((value - low) / (end - low)) * (to - from)
  const decimals = Math.max(0, -Math.floor(Math.log10(step)))
  const count = Math.round((end - low) / step)
  const ticks = Array.from({ length: count + 1 }, (_, n) => low + n * step)
  return { at, ticks: ticks.map((value) => ({ at: at(value), label: value.toFixed(decimals) })) }
}

/** 1, 2 or 5 of some power of ten, so that four to eight of them cover the span. */
function toStep(span: number): number {
  const power = 10 ** Math.floor(Math.log10(span / 4))
  const share = span / 4 / power
  return power * (share >= 5 ? 5 : share >= 2 ? 2 : 1)
}
