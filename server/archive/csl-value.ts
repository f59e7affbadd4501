import { z } from 'zod'
import { readCslItem } from '../../shared/source/read-csl.ts'
import { LENGTH_OF } from './length.ts'

/** What an imported item said beyond the fields of a source: CSL and nothing else, or empty. */
export const otherCsl = () =>
  z
    .string()
    .max(LENGTH_OF.note * 2)
    .refine((text) => text === '' || isOther(text), 'This is no part of a CSL item.')

function isOther(text: string): boolean {
  try {
    const read = readCslItem(JSON.parse(text), 'any')
    return typeof read !== 'string' && read.lost.length === 0
  } catch {
    return false
  }
}
