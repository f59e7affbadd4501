import * as z from 'zod'
import { HOLES, MOST_TABLETS } from './draft.ts'

/** Longest title and colour name in characters, and most colours of one draft: our own limits, far above use. */
export const LONGEST_TITLE = 300
export const LONGEST_COLOUR_NAME = 100
export const MOST_COLOURS = 400

/** No line that fits 400 tablets needs more than `1(2F), ` a tablet; a longer one is not read. */
const LONGEST_PICK = MOST_TABLETS * 10

/** What a colour key is, as a pattern and in words. */
export const COLOUR_KEY = /^[a-z0-9]{1,8}$/
export const COLOUR_KEY_RULE = 'A colour key is 1 to 8 of a-z and 0-9.'

const oneLine = (most: number) =>
  z
    .string()
    .max(most)
    .regex(/^[^\p{Cc}\u2028\u2029]*$/u, 'This must be one line, without control characters.')

const colour = z.strictObject({
  name: oneLine(LONGEST_COLOUR_NAME),
  hex: z
    .string()
    .regex(/^#[0-9a-fA-F]{6}$/, 'A colour is # and six of 0-9 and a-f, as in #9c3b2e.')
    .transform((hex) => hex.toLowerCase()),
})
const key = z.string().regex(COLOUR_KEY, COLOUR_KEY_RULE)
const hole = z
  .string({ error: 'A hole is a colour key, or null when it is empty.' })
  .regex(COLOUR_KEY, COLOUR_KEY_RULE)
  .nullable()
const tablet = z.strictObject({
  threading: z.enum(['S', 'Z']),
  holes: z.tuple([hole, hole, hole, hole]),
  start: z.enum(HOLES).default('A'),
  part: z.enum(['border', 'pattern']).default('pattern'),
})

/** The shape of a draft document; what its parts say about each other is `readDraft`'s. */
export const documentShape = z.strictObject({
  title: oneLine(LONGEST_TITLE),
  colours: z.record(z.string(), colour),
  weft: key,
  tablets: z.array(tablet).min(1),
  picks: z.array(z.string().max(LONGEST_PICK)).min(1),
})

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  array: 'a list',
  tuple: 'a list',
  object: 'an object',
  record: 'an object',
}

/**
 * What is wrong with one place of a document, in plain words; undefined leaves the word to the rule itself.
 * @example for a missing title: 'This is missing; text is needed.'
 */
export function sayShapeProblem(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type': {
      const kind = KINDS[issue.expected] ?? issue.expected
      return issue.input === undefined ? `This is missing; ${kind} is needed.` : `This must be ${kind}.`
    }
    case 'invalid_value':
      return `This must be one of ${issue.values.map(String).join(', ')}.`
    case 'too_small':
      return `This list must have at least ${issue.minimum}.`
    case 'too_big':
      return issue.origin === 'string'
        ? `This is too long; at most ${issue.maximum} characters are read.`
        : `This list must have no more than ${issue.maximum}.`
    default:
      return undefined
  }
}
