import type { ConventionCard, Question } from './card.ts'

const WIDTH = 40
const HEIGHT = 28

/**
 * A small picture beside an answer of the convention card. What the answer is about stands in the class
 * `choice-mark`; the dot with the two lines is the reader, who looks where they open.
 * @returns one `<svg>`, 40 by 28 units, in the colour of the text around it; empty for "not stated"
 * @example choicePicture('rows', 'upward') // '<svg … aria-hidden="true">…'
 * Source: our own.
 */
export function choicePicture<Q extends Question>(question: Q, answer: ConventionCard[Q]): string {
  if (answer === 'notStated') return ''
  const draw = DRAWINGS[question] as (answer: string) => string
  return (
    `<svg class="choice-picture" viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH * 2}" height="${HEIGHT * 2}" ` +
    `aria-hidden="true" focusable="false"><g fill="none" stroke="currentColor" stroke-width=".7" stroke-linecap="round" ` +
    `stroke-linejoin="round">${draw(answer)}</g></svg>`
  )
}

const DRAWINGS: { readonly [Q in Question]: (answer: string) => string } = {
  end: (answer) => drawEnd(answer === 'warp'),
  forward: (answer) => drawForward(answer === 'away'),
  slant: (answer) => drawSlant(answer === 'thread'),
  face: drawFace,
  sense: (answer) => drawSense(answer === 'clockwise'),
  first: drawFirst,
  rows: (answer) => drawRows(answer === 'upward'),
  count: (answer) => drawCount(answer === 'right'),
}

/** From above: the reader at the foot, looking up the picture. */
const readerBelow = (x: number) => dot(x, 25.4) + line(`M${x - 1.6} 22.6L${x} 25.4L${x + 1.6} 22.6`)
const READER = readerBelow(20)
/** From the reader's right: the reader at the left, looking to the right. */
const READER_BESIDE = dot(3, 14) + line('M5.8 12.4L3 14L5.8 15.6')

function dot(x: number, y: number): string {
  return `<circle cx="${x}" cy="${y}" r="1.5" fill="currentColor" stroke="none"/>`
}

function line(d: string, more = ''): string {
  return `<path d="${d}"${more}/>`
}

function mark(d: string, width = 1.5): string {
  return `<path class="choice-mark" stroke-width="${width}" d="${d}"/>`
}

function word(x: number, y: number, text: string, size = 6, isMark = false): string {
  const look = isMark ? 'class="choice-word" font-weight="700"' : 'fill="currentColor"'
  return `<text x="${x}" y="${y}" ${look} stroke="none" font-size="${size}" text-anchor="middle">${text}</text>`
}

function drawEnd(isWarp: boolean): string {
  const [cloth, warp] = isWarp ? [2, 10] : [13, 2]
  const threads = [13, 16.5, 20, 23.5, 27].map((x) => `M${x} ${warp}v11`).join('')
  const picks = [1.5, 3.25, 5, 6.75].map((y) => `M13 ${cloth + y}h14`).join('')
  return (
    line(threads) +
    `<rect class="choice-fill" x="12.4" y="${cloth}" width="15.2" height="8"/>` +
    line(`M12.4 ${cloth}h15.2v8h-15.2z`) +
    line(picks) +
    READER
  )
}

function drawForward(isAway: boolean): string {
  const arc = 'M14 8.5C17 2.5 27 2.5 30 8.5'
  const head = isAway ? 'M26.6 7.4L30 8.5L30.6 5' : 'M17.4 7.4L14 8.5L13.4 5'
  return (
    `<rect x="14" y="10.5" width="16" height="16" rx="1.5"/>` +
    [17, 27].map((x) => [13.5, 23.5].map((y) => `<circle cx="${x}" cy="${y}" r="1.2"/>`).join('')).join('') +
    mark(arc + head) +
    READER_BESIDE
  )
}

function drawSlant(isThread: boolean): string {
  // Far is up. The letter's middle stroke runs from far left to near right; the other lies square to it.
  const [along, across] = ['M11.5 3.5L22.5 19.5', 'M11 15.3L23 7.7']
  const drawn = isThread
    ? line(across, ' stroke-width="2.2" stroke-opacity=".45"') + mark(along)
    : line(across, ' stroke-width=".8"') + mark(along, 3)
  return drawn + word(31, 15.5, 'S', 11) + readerBelow(17)
}

function drawFace(answer: string): string {
  if (answer === 'right' || answer === 'left') {
    const side = answer === 'right' ? 1 : -1
    return (
      line('M20 3v18', ' stroke-width="2"') + word(20 + side * 7, 14.4, 'A', 7, true) + arrowFrom(20, 18, side) + READER
    )
  }
  const side = answer === 'threadTowards' ? 1 : -1
  const one = (x: number, slant: 1 | -1) =>
    line(`M${x} 3v17`, ' stroke-width="2"') +
    line(`M${x - slant * 5.5} 4.5L${x + slant * 5.5} 18.5`, ' stroke-width="1" stroke-opacity=".6"') +
    word(x + slant * side * 5, side > 0 ? 9.5 : 19.5, 'A', 6, true) +
    word(x, 27, slant > 0 ? 'S' : 'Z', 6)
  return one(11, 1) + one(29, -1) + READER
}

function arrowFrom(x: number, y: number, side: number): string {
  const tip = x + side * 9
  return line(`M${x + side * 3} ${y}H${tip}M${tip - side * 2} ${y - 1.6}L${tip} ${y}L${tip - side * 2} ${y + 1.6}`)
}

function drawSense(isClockwise: boolean): string {
  const corners = [
    [14, 10],
    [14, 24.2],
    [26, 24.2],
    [26, 10],
  ] as const
  const letters = isClockwise ? 'ADCB' : 'ABCD'
  const written = corners.map(([x, y], at) => word(x, y, letters[at]!, 6, true)).join('')
  const arc = isClockwise
    ? 'M17 17.5A3.6 3.6 0 1 1 20 18.1M22 16.6L20 18.1L21.4 20.2'
    : 'M23 17.5A3.6 3.6 0 1 0 20 18.1M18 16.6L20 18.1L18.6 20.2'
  return `<rect x="9.5" y="3.5" width="21" height="22.5" rx="1.5"/>` + written + line(arc)
}

const PLACES: Readonly<Record<string, readonly [number, number]>> = {
  ...{ topNear: [15.5, 7.5], bottomNear: [15.5, 20.5], bottomFar: [28.5, 20.5], topFar: [28.5, 7.5] },
}

function drawFirst(answer: string): string {
  const holes = Object.entries(PLACES).map(([place, [x, y]]) =>
    place === answer
      ? `<circle class="choice-mark" stroke-width="1.2" cx="${x}" cy="${y}" r="1.5"/>` +
        word(x < 20 ? x + 4 : x - 4, y + 2.2, 'A', 6.5, true)
      : `<circle cx="${x}" cy="${y}" r="1.2"/>`,
  )
  return `<rect x="12" y="4" width="20" height="20" rx="1.5"/>${holes.join('')}${READER_BESIDE}`
}

function drawRows(isUpward: boolean): string {
  return [0, 1, 2, 3]
    .map((row) => {
      const pick = isUpward ? 4 - row : row + 1
      const y = 5.5 + row * 6
      return word(11, y + 1.6, String(pick), 5, pick === 1) + (pick === 1 ? mark(`M16 ${y}h14`) : line(`M16 ${y}h14`))
    })
    .join('')
}

function drawCount(isRight: boolean): string {
  return (
    [0, 1, 2, 3]
      .map((place) => {
        const tablet = isRight ? 4 - place : place + 1
        const x = 9.5 + place * 7
        return (
          (tablet === 1 ? mark(`M${x} 9v11`, 2) : line(`M${x} 9v11`, ' stroke-width="1.4"')) +
          word(x, 6, String(tablet), 5, tablet === 1)
        )
      })
      .join('') + READER
  )
}
