/** Lanes closer than this are not numbered each. */
const LEAST_LABEL_PX = 13

export interface LaneLabel {
  readonly text: string
  readonly topPx: number
}

/** First and last tablet of a lane, from 0, and where its line begins. */
interface Placed {
  readonly from: number
  readonly to: number
  readonly zeroPx: number
}

/** Numbers of lanes, as many as stand clear of each other from the top; the last one always has its own. */
export function labelsOf(lanes: readonly Placed[]): LaneLabel[] {
  const last = lanes.at(-1)
  if (!last) return []
  let numbered = -LEAST_LABEL_PX
  return lanes.flatMap((lane) => {
    const { from, to, zeroPx } = lane
    if (lane !== last) {
      if (zeroPx - numbered < LEAST_LABEL_PX || last.zeroPx - zeroPx < LEAST_LABEL_PX) return []
      numbered = zeroPx
    }
    return [{ text: from === to ? `${from + 1}` : `${from + 1}–${to + 1}`, topPx: zeroPx }]
  })
}
