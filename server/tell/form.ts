import { z } from 'zod'
import type { StatedProperties } from '../../shared/draft/tell/misprint.ts'
import { formFields, type FieldSpec, type FieldView } from '../field.ts'
import { parseForm, wholeNumber } from '../form.ts'

/** Floats longer than this are named unless the reader says another number. */
const USUAL_LIMIT = 3

const tick = () => z.string().transform((text) => text !== '')

const SCHEMA = z.object({
  float: wholeNumber(1, 99),
  neutral: tick(),
  closes: tick(),
  threading: tick(),
  turning: tick(),
  over: wholeNumber(1, 99),
  face: z
    .string()
    .transform((text): StatedProperties['face'] => (text === 'across' || text === 'glide' ? text : undefined)),
})

export type AskedField = keyof typeof SCHEMA.shape

const FIELDS: Record<AskedField, FieldSpec> = {
  float: { label: 'Name floats over so many picks', inputmode: 'numeric' },
  neutral: { label: 'It is twist-neutral', control: 'tick' },
  closes: { label: 'It closes after one repeat', control: 'tick' },
  threading: { label: 'The right half is threaded as the mirror of the left', control: 'tick' },
  turning: { label: 'The right half is turned as the left, at every pick', control: 'tick' },
  over: {
    label: 'No thread floats over more picks than',
    hint: 'Empty when nothing is said of it.',
    inputmode: 'numeric',
  },
  face: {
    label: 'The colours of the face',
    options: [
      ['', 'nothing is said of them'],
      ['across', 'the right half mirrors the left'],
      ['glide', 'the right half mirrors the left half a repeat on'],
    ],
  },
}

/** What the reader asked for, and the fields with what was typed in them. */
export interface Asked {
  readonly limit: number
  readonly stated: StatedProperties
  readonly fields: Record<AskedField, FieldView>
  readonly hasProblem: boolean
}

/**
 * Reads the address of the page. What cannot be read keeps its words and gets a sentence; the page is made without it.
 * @param picks of the repeat: half a repeat needs an even number
 */
export function readAsked(query: unknown, picks: number): Asked {
  const form = parseForm(query, SCHEMA)
  if (!form.ok) {
    return { limit: USUAL_LIMIT, stated: {}, fields: formFields(FIELDS, form.entered, form.problems), hasProblem: true }
  }
  const { float = USUAL_LIMIT, over, face, ...ticks } = form.value
  const entered = {
    ...Object.fromEntries(Object.entries(ticks).map(([name, isTicked]) => [name, isTicked ? 'yes' : ''])),
    ...{ float: String(float), over: String(over ?? ''), face: face ?? '' },
  }
  const isOdd = face === 'glide' && picks % 2 !== 0
  const problems = isOdd ? { face: `Half a repeat needs an even number of picks; this one has ${picks}.` } : {}
  const stated = { ...ticks, longestFloat: over, face: isOdd ? undefined : face }
  return { limit: float, stated, fields: formFields(FIELDS, entered, problems), hasProblem: isOdd }
}
