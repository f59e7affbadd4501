import type { Sight } from './view.ts'

/** A picture of a pane: what has changed in it since it was drawn last, everything when left out. */
export interface Picture {
  readonly box: HTMLElement
  draw(sight: Sight, changed?: Uint8Array): void
  /** Which of its tablets are in the window. */
  sees(): (tablet: number) => boolean
}

/**
 * After an edit what is in the window is drawn at once, what is above and below it picture by picture in the frames
 * after, so that the hand is followed however many there are. Everything else that changes is drawn at once.
 * @param sight asked for when a picture is drawn later than it was told
 */
export function drawInSlices(pictures: readonly Picture[], sight: () => Sight) {
  /** What each still has to draw, by tablet. */
  const owed = new Map<Picture, Uint8Array>()
  const away = new Set<Element>()
  let frame = 0

  const pay = (picture: Picture, now: Sight) => {
    const changed = owed.get(picture)
    owed.delete(picture)
    if (changed) picture.draw(now, changed)
  }
  const paySeen = (picture: Picture, now: Sight) => {
    const changed = owed.get(picture)
    if (!changed) return
    const isSeen = picture.sees()
    const [seen, rest] = [changed.slice(), changed.slice()]
    changed.forEach((_, tablet) => ((isSeen(tablet) ? rest : seen)[tablet] = 0))
    picture.draw(now, seen)
    if (rest.includes(1)) owed.set(picture, rest)
    else owed.delete(picture)
  }
  const drawNext = () => {
    const [next] = owed.keys()
    frame = 0
    if (next) pay(next, sight())
    if (owed.size > 0) frame = requestAnimationFrame(drawNext)
  }
  const watch = new IntersectionObserver((seen) => {
    for (const { target, isIntersecting } of seen) {
      if (isIntersecting) away.delete(target)
      else away.add(target)
    }
    for (const picture of [...owed.keys()]) if (!away.has(picture.box)) pay(picture, sight())
  })
  for (const { box } of pictures) watch.observe(box)

  return {
    draw(now: Sight, changed?: Uint8Array): void {
      for (const picture of pictures) {
        if (changed === undefined || picture.box.hidden) owed.delete(picture)
        if (picture.box.hidden) continue
        if (changed === undefined) {
          picture.draw(now)
          continue
        }
        const before = owed.get(picture)
        owed.set(picture, before ? before.map((one, tablet) => one | changed[tablet]!) : changed)
        if (!away.has(picture.box)) paySeen(picture, now)
      }
      if (owed.size > 0) frame ||= requestAnimationFrame(drawNext)
    },
  }
}
