import { type ColourKey, type Draft, HOLES, type Tablet } from '../draft.ts'
import { escapeXml, short } from './svg.ts'

/** Room that the drawing of one tablet takes, in mm: seen from above over seen from the right. */
export const TABLET_MM = { width: 16, height: 24.5, card: 14 } as const

const CARD = TABLET_MM.card
const CARD_TOP = 9.5
const HOLE_IN = 3

/** A hole where it stands before the first pick. */
interface StandingHole {
  readonly letter: (typeof HOLES)[number]
  readonly thread: ColourKey | null
  readonly isFar: boolean
  readonly isTop: boolean
}

/**
 * The four holes of a tablet where they stand before the first pick.
 * @returns top-near, bottom-near, bottom-far, top-far: the order in which forward turns bring them to top-near
 * @example a tablet that starts at C has C top-near, D bottom-near, A bottom-far, B top-far
 * Source: the frame that the whole program uses; see `weave`.
 */
export function standingHoles(tablet: Tablet): StandingHole[] {
  const start = HOLES.indexOf(tablet.start)
  return [0, 1, 2, 3].map((place) => {
    const hole = (start + place) & 3
    return { letter: HOLES[hole]!, thread: tablet.holes[hole]!, isFar: place > 1, isTop: place === 0 || place === 3 }
  })
}

/**
 * Two true views of one threaded tablet, one under the other. From above, the far edge up: the card is its own edge, and
 * the two top threads cross it as they slant, "\" in S and "/" in Z. From the weaver's right, the near edge at the left:
 * the card face on, each hole with its letter and its thread, which comes towards the eye on the near side of the hole
 * in S and on its far side in Z.
 * @returns SVG elements in a field of `TABLET_MM`; lines and letters in the colour of the text around
 * @throws RangeError when a colour is missing
 * Source: our own.
 */
export function drawTablet(tablet: Tablet, colours: Draft['colours']): string {
  return drawTabletOf(standingHoles(tablet), tablet.threading, colours)
}

/**
 * The same for any reader: the letters are that reader's, the near edge is the one near to them, and the tablet is seen
 * from their right.
 * @param corners top-near, bottom-near, bottom-far, top-far: letter and thread of each
 * @param threading the true slant of the thread, whatever the reader calls it; it is the same from either end
 * @throws RangeError when a colour is missing
 * @example drawTabletOf(standingHoles(tablet), tablet.threading, colours) // as drawTablet draws it
 */
export function drawTabletOf(
  corners: readonly Pick<StandingHole, 'letter' | 'thread'>[],
  threading: Tablet['threading'],
  colours: Draft['colours'],
): string {
  const holes = corners.map(({ letter, thread }, place) => ({
    ...{ letter, thread },
    ...{ isFar: place > 1, isTop: place === 0 || place === 3 },
  }))
  const left = (TABLET_MM.width - CARD) / 2
  const middle = TABLET_MM.width / 2
  const isS = threading === 'S'
  const hexOf = (key: ColourKey) => {
    const colour = Object.hasOwn(colours, key) ? colours[key] : undefined
    if (colour === undefined) throw new RangeError(`colours must hold every colour used, not ${key}`)
    return escapeXml(colour.hex)
  }
  const line = (hex: string, d: string) =>
    `<path stroke="currentColor" stroke-width="1.5" d="${d}"/><path stroke="${hex}" stroke-width="1.15" d="${d}"/>`

  const over: string[] = []
  for (const { thread, isTop, isFar } of holes) {
    if (!isTop || thread === null) continue
    const y = isFar ? 3 : 6
    over.push(line(hexOf(thread), `M${middle - 3.2} ${isS ? y - 2 : y + 2}L${middle + 3.2} ${isS ? y + 2 : y - 2}`))
  }
  const edge = `<rect x="${middle - 0.4}" y=".7" width=".8" height="7.6" rx=".4" fill="currentColor"/>`

  const faces = holes.map(({ letter, thread, isTop, isFar }) => {
    const x = left + (isFar ? CARD - HOLE_IN : HOLE_IN)
    const y = CARD_TOP + (isTop ? HOLE_IN : CARD - HOLE_IN)
    const ring = `<circle cx="${short(x)}" cy="${short(y)}" r="1.25" `
    const letterY = short(y + (isTop ? 3.5 : -1.7))
    const name = `<text x="${short(x)}" y="${letterY}" font-size="2.4" text-anchor="middle" fill="currentColor">${letter}</text>`
    if (thread === null)
      return `${ring}fill="none" stroke="currentColor" stroke-width=".2" stroke-dasharray=".5 .4"/>${name}`
    const tail = line(hexOf(thread), `M${short(x)} ${short(y)}h${isS ? -2.5 : 2.5}`)
    return `${tail}${ring}fill="${hexOf(thread)}" stroke="currentColor" stroke-width=".25"/>${name}`
  })
  const card =
    `<rect x="${left}" y="${CARD_TOP}" width="${CARD}" height="${CARD}" rx="1.6" fill="currentColor" fill-opacity=".05" ` +
    `stroke="currentColor" stroke-width=".3"/>`
  return `<g fill="none" stroke-linecap="round">${edge}${over.join('')}${card}${faces.join('')}</g>`
}
