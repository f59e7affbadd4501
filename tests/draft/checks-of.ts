import type { Check } from '../../shared/draft/check-result.ts'
import { checkDraft } from '../../shared/draft/check.ts'
import { readPickText } from '../../shared/draft/pick-text.ts'
import { readThreading } from '../../shared/draft/threading.ts'
import { weave } from '../../shared/draft/weave.ts'
import { COLOURS } from './arbitrary-draft.ts'

/** The checks of a draft typed as threading and turning, by key. */
export function checksOf(threading: string, turning: string): Map<Check['key'], Check> {
  const read = readThreading(threading, COLOURS)
  if (!read.ok) throw new Error(read.problems[0]!.message)
  const { tablets } = read
  const typed = readPickText(turning, tablets.length)
  if (!typed.ok) throw new Error(typed.problems[0]!.message)
  const draft = { title: '', colours: COLOURS, weft: 'm', tablets, picks: typed.picks }
  const checks = checkDraft(draft, typed.turning, weave(draft, typed.turning))
  return new Map(checks.map((check) => [check.key, check]))
}

/** One tablet of three colours. */
export const ONE = 'S m w b2 m'
/** Borders of two tablets, twenty of pattern between them. */
export const BAND = '1-2: S m m m m border\n3-12: Z m w w m\nmirror'
