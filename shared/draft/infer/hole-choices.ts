/** Colours of holes A to D as numbers, 0 for the colour that the tablet shows most. */
export type HoleChoice = readonly [number, number, number, number]

/**
 * The ways to thread a tablet over so many colours that are worth trying: of all that weave the same turnings' faces
 * but for a renaming, one. The order is: fewer colours first, then the commoner colours.
 * @param colours how many colours, from 1
 * @param start the stand before the first pick when it is known: then a tablet may not be taken round; null when it is not
 * @param mirrors whether forward and back may be changed over, which they may while no slant is legible
 * @returns at most colours ** 4, about an eighth of that when start is not known and mirrors is true
 * @example listHoleChoices(2, null, true).length // 6: mmmm, then mmmw, mmww, mwmw, mwww and wwww
 * Source: our own; the four holes are the edges of a ring, which looks the same turned round and mirrored.
 */
export function listHoleChoices(colours: number, start: number | null, mirrors: boolean): HoleChoice[] {
  const choices: HoleChoice[] = []
  for (let code = 0; code < colours ** 4; code++) {
    const choice: HoleChoice = [
      digit(code, 3, colours),
      digit(code, 2, colours),
      digit(code, 1, colours),
      code % colours,
    ]
    if (listAlike(choice, start, mirrors).every((other) => compare(choice, other) <= 0)) choices.push(choice)
  }
  const kinds = (choice: HoleChoice) => new Set(choice).size
  return choices.sort((a, b) => kinds(a) - kinds(b) || compare(a, b))
}

const digit = (code: number, place: number, base: number) => Math.floor(code / base ** place) % base

function compare(a: HoleChoice, b: HoleChoice): number {
  return a[0] - b[0] || a[1] - b[1] || a[2] - b[2] || a[3] - b[3]
}

/** Mirrored about a stand, the hole between stands p and p + 1 becomes the one between 2 start - p - 1 and 2 start - p. */
function listAlike(choice: HoleChoice, start: number | null, mirrors: boolean): HoleChoice[] {
  const rounds = start === null ? [0, 1, 2, 3] : [0]
  const about = 2 * (start ?? 0) - 1
  return rounds.flatMap((by) => {
    const turned = rotateHoles(choice, by)
    return mirrors ? [turned, fillHoles((hole) => turned[(about - hole) & 3]!)] : [turned]
  })
}

/**
 * The holes named anew, so that hole `by` becomes A.
 * @example rotateHoles([0, 1, 2, 3], 1) // [1, 2, 3, 0]
 */
export function rotateHoles(choice: HoleChoice, by: number): HoleChoice {
  return fillHoles((hole) => choice[(hole + by) & 3]!)
}

/** Four holes, each as the function says. */
export const fillHoles = (of: (hole: number) => number): HoleChoice => [of(0), of(1), of(2), of(3)]
