import type * as z from 'zod'
import { COLOUR_KEY, COLOUR_KEY_RULE, documentShape, MOST_COLOURS, sayShapeProblem } from './document-shape.ts'
import { type Draft, MOST_PICKS, MOST_TABLETS } from './draft.ts'
import { MOST_PROBLEMS, readTurning, turningOf, writeTurning } from './turning.ts'

export interface DocumentProblem {
  /** Where in the document, positions in lists counted from 0 as in JSON: `tablets[2].holes[1]`; empty for all of it. */
  readonly path: string
  readonly message: string
}

export type ReadDraft =
  { readonly ok: true; readonly draft: Draft } | { readonly ok: false; readonly problems: readonly DocumentProblem[] }

/**
 * Reads a draft document strictly: unknown keys are refused with their path, holes and weft must name a colour of the
 * draft, and every pick must turn every tablet once. Hex colours come back in lower case and `start` and `part` filled
 * in; nothing else is changed, so picks stay as they were typed.
 * @param input anything, as it comes from `JSON.parse`
 * @returns the draft, or what is wrong with it: shape first; then, when the shape is good, colours and picks; 50 at most
 * @example readDraft({ …, tablets: [], … }) // { ok: false, problems: [{ path: 'tablets', message: 'This list must have …' }] }
 * @example readDraft(null) // a problem with path ''
 */
export function readDraft(input: unknown): ReadDraft {
  const before = listLimitProblems(input)
  if (before.length > 0) return { ok: false, problems: before }
  const shape = documentShape.safeParse(input, { error: sayShapeProblem })
  if (!shape.success) {
    const problems = shape.error.issues.slice(0, MOST_PROBLEMS).flatMap(toProblems)
    return { ok: false, problems: problems.slice(0, MOST_PROBLEMS) }
  }
  const draft: Draft = shape.data
  const problems = [...listColourProblems(draft), ...listPickProblems(draft)].slice(0, MOST_PROBLEMS)
  return problems.length > 0 ? { ok: false, problems } : { ok: true, draft }
}

/** Before the shape is looked at in full: sizes that would cost a long look, and keys that the look would pass over. */
function listLimitProblems(input: unknown): DocumentProblem[] {
  if (typeof input !== 'object' || input === null) return []
  const { tablets, picks, colours } = input as { tablets?: unknown; picks?: unknown; colours?: unknown }
  const problems: DocumentProblem[] = []
  if (Array.isArray(tablets) && tablets.length > MOST_TABLETS) {
    problems.push({ path: 'tablets', message: `${tablets.length} tablets found, at most ${MOST_TABLETS} are read.` })
  }
  if (Array.isArray(picks) && picks.length > MOST_PICKS) {
    problems.push({ path: 'picks', message: `${picks.length} picks found, at most ${MOST_PICKS} are read.` })
  }
  if (typeof colours === 'object' && colours !== null && !Array.isArray(colours)) {
    const keys = Object.keys(colours)
    if (keys.length > MOST_COLOURS) {
      problems.push({ path: 'colours', message: `${keys.length} colours found, at most ${MOST_COLOURS} are read.` })
    } else {
      // zod's record passes over `__proto__` without a word, so the keys are ours to look at.
      const bad = keys.filter((one) => !COLOUR_KEY.test(one)).slice(0, MOST_PROBLEMS)
      problems.push(...bad.map((one) => ({ path: joinPath(['colours', one]), message: COLOUR_KEY_RULE })))
    }
  }
  return problems
}

function toProblems(issue: z.core.$ZodIssue): DocumentProblem[] {
  if (issue.code !== 'unrecognized_keys') return [{ path: joinPath(issue.path), message: issue.message }]
  return issue.keys
    .slice(0, MOST_PROBLEMS)
    .map((name) => ({ path: joinPath([...issue.path, name]), message: 'This key is not part of a draft document.' }))
}

/** `tablets[2].holes[1]`; a key that is no plain word stands in quotes, shortened when it is very long. */
function joinPath(path: readonly PropertyKey[]): string {
  return path.reduce<string>((joined, step) => {
    if (typeof step === 'number') return `${joined}[${step}]`
    const name = String(step).slice(0, 60)
    if (!/^\w+$/.test(name)) return `${joined}[${JSON.stringify(name)}]`
    return joined === '' ? name : `${joined}.${name}`
  }, '')
}

function listColourProblems({ colours, weft, tablets }: Draft): DocumentProblem[] {
  const missing = (one: string) => !Object.hasOwn(colours, one)
  const say = (path: string, one: string) => ({ path, message: `No colour of the draft has the key “${one}”.` })
  const problems = missing(weft) ? [say('weft', weft)] : []
  tablets.forEach(({ holes }, at) =>
    holes.forEach((one, hole) => {
      if (one !== null && missing(one)) problems.push(say(`tablets[${at}].holes[${hole}]`, one))
    }),
  )
  return problems
}

function listPickProblems({ picks, tablets }: Draft): DocumentProblem[] {
  const read = readTurning(picks, tablets.length)
  if (read.ok) return []
  return read.problems.map(({ pick, column, message }) => ({
    path: `picks[${pick - 1}]`,
    message: column === undefined ? message : `${message} (Character ${column}.)`,
  }))
}

/**
 * The draft as it is exported: keys in the order of the specification, colours by key, every default written out, picks
 * in the fewest runs. Two drafts that say the same give the same text under `JSON.stringify`
 * (keys that are whole numbers, `7`, come first there, as in every JSON that JavaScript writes).
 * @param draft one that `readDraft` returned
 * @throws RangeError when its picks cannot be read
 */
export function canonicalDraft(draft: Draft): Draft {
  const colours = Object.entries(draft.colours).sort(([a], [b]) => (a < b ? -1 : 1))
  return {
    title: draft.title,
    colours: Object.fromEntries(colours.map(([key, { name, hex }]) => [key, { name, hex }])),
    weft: draft.weft,
    tablets: draft.tablets.map(({ threading, holes, start, part }) => ({ threading, holes, start, part })),
    picks: writeTurning(turningOf(draft)),
  }
}
