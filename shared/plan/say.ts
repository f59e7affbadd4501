import { toDecimals, toSignificant } from '../measure/rounding.ts'
import type { Learned } from './learned.ts'

/** A number as the page shows it, how it came about with the values put in, and the field that changes it. */
export interface Shown {
  readonly text: string
  /** Empty where there is nothing to open. */
  readonly how: string
  /** Name of a field of the form; empty where none changes it. */
  readonly field: string
}

export interface ShownRow {
  /** Stays the same while somebody types, so that what is open stays open. */
  readonly key: string
  readonly head: string
  /** A colour beside the head; empty for none. */
  readonly hex: string
  readonly cells: readonly Shown[]
}

export const shown = (text: string, how = '', field = ''): Shown => ({ text, how, field })

export const sayM = (mm: number): string => `${toDecimals(mm / 1000, 2)} m`
export const sayMetres = (metres: number): string => `${toDecimals(metres, metres < 100 ? 1 : 0)} m`
export const sayCm = (mm: number): string => `${trim(toDecimals(mm / 10, 1))} cm`
export const sayMm = (mm: number): string => `${toDecimals(mm, mm < 1 ? 2 : 1)} mm`
export const sayG = (grams: number): string => `${toDecimals(grams, grams < 100 ? 1 : 0)} g`
export const sayTex = (tex: number): string => `${toSignificant(tex, 3)} tex`
export const sayPercent = (percent: number): string => `${trim(toDecimals(percent, 1))} %`
export const sayNumber = (value: number, digits = 3): string => toSignificant(value, digits)
export const sayPerM = (turns: number): string => `${toDecimals(turns, turns < 10 ? 1 : 0)} turns per m`

/** 60.0 is 60: a length that was typed in whole centimetres. */
const trim = (digits: string): string => digits.replace(/\.0+$/, '')

/** `n = 3, s 0.05` or `n = 1, no spread yet`. */
export function sayLearned({ s, n }: Learned): string {
  return s === null ? `n = ${n}, no spread yet` : `n = ${n}, s ${sayNumber(s, 2)}`
}
