import { requireFinite } from './argument.ts'

/** What is measured, as far as units go. `perCm` is a density: so many per length. */
export type QuantityKind = 'length' | 'perCm' | 'count' | 'angle'

/** Every unit a measured value may be typed in. */
export type Unit = 'mm' | 'cm' | 'm' | 'in' | 'perCm' | 'per10Cm' | 'perIn' | 'count' | 'deg'

export interface UnitFacts {
  readonly kind: QuantityKind
  /** How it is written after a number; empty for a plain count. */
  readonly symbol: string
  /** One of this unit in the base unit of its kind is over/under, both whole numbers, so that no digit is lost. */
  readonly over: number
  readonly under: number
}

/**
 * The units, with their size in the base unit of their kind: mm, per cm, one, degree.
 * Source: the inch is 25.4 mm exactly, a 36th of the international yard of 0.9144 m (1959).
 */
export const UNITS: Readonly<Record<Unit, UnitFacts>> = {
  mm: { kind: 'length', symbol: 'mm', over: 1, under: 1 },
  cm: { kind: 'length', symbol: 'cm', over: 10, under: 1 },
  m: { kind: 'length', symbol: 'm', over: 1000, under: 1 },
  in: { kind: 'length', symbol: 'in', over: 254, under: 10 },
  perCm: { kind: 'perCm', symbol: 'per cm', over: 1, under: 1 },
  per10Cm: { kind: 'perCm', symbol: 'per 10 cm', over: 1, under: 10 },
  perIn: { kind: 'perCm', symbol: 'per inch', over: 100, under: 254 },
  count: { kind: 'count', symbol: '', over: 1, under: 1 },
  deg: { kind: 'angle', symbol: '°', over: 1, under: 1 },
}

/** The unit that values of each kind are compared in. */
export const BASE_UNITS: Readonly<Record<QuantityKind, Unit>> = {
  length: 'mm',
  perCm: 'perCm',
  count: 'count',
  angle: 'deg',
}

/**
 * Units in which a value of this kind may be typed, the base unit first.
 * @param kind what is measured
 * @returns the units, in the order in which a form offers them
 * @example unitsOf('perCm') // ['perCm', 'per10Cm', 'perIn']
 */
export function unitsOf(kind: QuantityKind): readonly Unit[] {
  return (Object.keys(UNITS) as Unit[]).filter((unit) => UNITS[unit].kind === kind)
}

/**
 * A value, or a standard uncertainty, in another unit of the same kind.
 * @param value a finite number in the unit `from`
 * @param from the unit it is in
 * @param to the unit wanted
 * @returns the value in `to`, unrounded
 * @throws RangeError when the value is not finite, or the two units measure different things
 * @example convertUnit(1, 'in', 'mm') // 25.4; convertUnit(80, 'per10Cm', 'perCm') // 8; convertUnit(1, 'mm', 'deg') throws
 */
export function convertUnit(value: number, from: Unit, to: Unit): number {
  requireFinite('value', value)
  const [a, b] = [UNITS[from], UNITS[to]]
  if (a.kind !== b.kind) throw new RangeError(`to must be a unit of ${a.kind} like ${from}, not ${to}`)
  if (from === to) return value
  return (value * (a.over * b.under)) / (a.under * b.over)
}
