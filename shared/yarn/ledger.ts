/** What can happen to a lot, by the word that the ledger keeps. */
export const MOVEMENTS = {
  bought: { label: 'Bought', does: 'comes to the shelf' },
  dyed: { label: 'Dyed', does: 'goes into another lot' },
  reserved: { label: 'Reserved', does: 'is kept back for a piece' },
  released: { label: 'Released', does: 'is free again' },
  used: { label: 'Used', does: 'is woven up' },
  returned: { label: 'Returned', does: 'comes back to the shelf' },
  sample: { label: 'Sample', does: 'goes into a sample' },
  lost: { label: 'Lost', does: 'is gone' },
  stocktake: { label: 'Stock-take', does: 'is weighed' },
  correction: { label: 'Correction', does: 'puts another entry right' },
} as const
export type MovementKind = keyof typeof MOVEMENTS

/** One entry of a lot's ledger. Masses are whole milligrams, so that a sum has no remainder. */
export interface Entry {
  readonly id: number
  readonly kind: MovementKind
  /** What it adds to the mass on hand; less than 0 for what goes. */
  readonly massMg: number
  /** What it adds to the mass reserved. */
  readonly reservedMg: number
  readonly pieceId: number | undefined
  readonly correctsId: number | undefined
}

export interface Balance {
  readonly onHandMg: number
  /** Of the mass on hand, or more than it where too much was promised. */
  readonly reservedMg: number
  readonly freeMg: number
}

type Adds = Pick<Entry, 'massMg' | 'reservedMg'>

/** The most that one entry may be about: a tonne. */
export const MOST_MG = 1_000_000_000

/**
 * Mass on hand, reserved and free: always the sum of the ledger.
 * @example balanceOf([{ massMg: 100_000, reservedMg: 0 }, { massMg: 0, reservedMg: 40_000 }]).freeMg // 60_000
 */
export function balanceOf(entries: readonly Adds[]): Balance {
  let onHandMg = 0
  let reservedMg = 0
  for (const entry of entries) {
    onHandMg += entry.massMg
    reservedMg += entry.reservedMg
  }
  return { onHandMg, reservedMg, freeMg: onHandMg - reservedMg }
}

/** The balance behind each entry, in the order given. */
export function runningBalance(entries: readonly Adds[]): Balance[] {
  let [onHandMg, reservedMg] = [0, 0]
  return entries.map((entry) => {
    onHandMg += entry.massMg
    reservedMg += entry.reservedMg
    return { onHandMg, reservedMg, freeMg: onHandMg - reservedMg }
  })
}

/** What is still reserved for a piece; undefined asks for reservations whose piece is gone. */
export const reservedFor = (entries: readonly Entry[], pieceId: number | undefined): number =>
  entries.reduce((sum, entry) => (entry.pieceId === pieceId ? sum + entry.reservedMg : sum), 0)

/** An entry as it is about to be written. */
export interface Change extends Adds {
  /** What the ledger or a reservation said, and what was found, where the entry holds the one against the other. */
  readonly expectedMg: number | undefined
  readonly foundMg: number | undefined
}

export type Planned =
  | { readonly ok: true; readonly change: Change; readonly question: string }
  | { readonly ok: false; readonly message: string }

/**
 * What a movement adds to the ledger.
 * @param kind any but a correction; `dyed` is what goes out of the lot that is dyed
 * @param mg more than 0; of a stock-take what the scales said, 0 or more
 * @returns the change; `question` is not empty where the ledger would say less than nothing, or promise more than is there
 */
export function planMovement(
  kind: Exclude<MovementKind, 'correction'>,
  mg: number,
  entries: readonly Entry[],
  pieceId?: number,
): Planned {
  const before = balanceOf(entries)
  const change = changeOf(kind, mg, before, reservedFor(entries, pieceId))
  if (typeof change === 'string') return { ok: false, message: change }
  return { ok: true, change, question: questionOf(before, change) }
}

function changeOf(kind: MovementKind, mg: number, before: Balance, outstandingMg: number): Change | string {
  const adds = (massMg: number, reservedMg = 0): Change => ({
    ...{ massMg, reservedMg, expectedMg: undefined, foundMg: undefined },
  })
  switch (kind) {
    case 'bought':
    case 'returned':
      return adds(mg)
    case 'dyed':
    case 'sample':
    case 'lost':
      return adds(-mg)
    case 'used':
      return adds(-mg, zeroed(-Math.min(mg, Math.max(0, outstandingMg))))
    case 'reserved':
      return adds(0, mg)
    case 'released':
      return mg > outstandingMg
        ? `Only ${sayGrams(Math.max(0, outstandingMg))} are reserved for it, so no more can be released.`
        : adds(0, -mg)
    case 'stocktake':
      return { massMg: mg - before.onHandMg, reservedMg: 0, expectedMg: before.onHandMg, foundMg: mg }
    case 'correction':
      throw new RangeError('a correction is planned by planCorrection')
  }
}

/**
 * What a correction adds: the difference between what an entry should have said and what it and its corrections say now.
 * Of what was used for a piece, as much of the reservation is taken as would have been with the right figure.
 * @param entry the one that is wrong; no correction itself
 * @param mg what it should have said, 0 or more; of a stock-take what the scales really said
 */
export function planCorrection(entry: Entry & Pick<Change, 'foundMg'>, mg: number, entries: readonly Entry[]): Planned {
  const said = balanceOf(entries.filter(({ id, correctsId }) => id === entry.id || correctsId === entry.id))
  const before = balanceOf(entries)
  const left = Math.max(0, reservedFor(entries, entry.pieceId))
  const change = (massMg: number, reservedMg: number): Planned => {
    const adds = { massMg, reservedMg: zeroed(reservedMg), expectedMg: undefined, foundMg: mg }
    if (massMg === 0 && reservedMg === 0) return { ok: false, message: 'That is what the ledger says already.' }
    return { ok: true, change: adds, question: questionOf(before, adds) }
  }
  switch (entry.kind) {
    case 'correction':
      return { ok: false, message: 'Correct the entry itself: a correction points at it.' }
    case 'stocktake': {
      const corrections = entries.filter(({ correctsId }) => correctsId === entry.id)
      return change(mg - (entry.foundMg ?? 0) - balanceOf(corrections).onHandMg, 0)
    }
    // What was used or released meanwhile cannot have been taken from more than was reserved.
    case 'reserved':
      return change(0, Math.max(mg - said.reservedMg, -left))
    case 'released':
      return -mg - said.reservedMg < -left
        ? { ok: false, message: `Only ${sayGrams(left)} more are reserved for it, so no more can be released.` }
        : change(0, -mg - said.reservedMg)
    case 'used':
      return change(-mg - said.onHandMg, -Math.min(mg, left - said.reservedMg) - said.reservedMg)
    case 'dyed':
      return change((entry.massMg < 0 ? -mg : mg) - said.onHandMg, 0)
    case 'bought':
    case 'returned':
      return change(mg - said.onHandMg, 0)
    case 'sample':
    case 'lost':
      return change(-mg - said.onHandMg, 0)
  }
}

function questionOf(before: Balance, change: Adds): string {
  const after = balanceOf([{ massMg: before.onHandMg, reservedMg: before.reservedMg }, change])
  if (after.onHandMg < 0 && change.massMg < 0)
    return `By the ledger ${sayGrams(before.onHandMg)} are on hand, and ${sayGrams(-after.onHandMg)} more would be gone than there are. Is it so? Then tick that it is; a stock-take will put it right.`
  if (after.freeMg < 0 && change.reservedMg > 0)
    return `Only ${sayGrams(before.freeMg)} are free, so ${sayGrams(-after.freeMg)} more would be promised than there are. Is it so? Then tick that it is.`
  return ''
}

/** No minus before a zero. */
const zeroed = (mg: number) => (mg === 0 ? 0 : mg)

const GRAMS = /^(\d{1,6})(?:[.,](\d{1,3}))?$/u

/**
 * Grams as they are typed, to a milligram, without a float between.
 * @returns whole milligrams; undefined for anything else
 * @example readGrams('97,4') // 97_400
 */
export function readGrams(text: string): number | undefined {
  const [, whole, part = ''] = GRAMS.exec(text.trim()) ?? []
  return whole === undefined ? undefined : Number(whole) * 1000 + Number(part.padEnd(3, '0'))
}

/** `97.4 g`; whole milligrams in. */
export const sayGrams = (mg: number): string => `${gramsText(mg)} g`

/** As `readGrams` reads it: `97.4`; a minus before what is less than 0. */
export function gramsText(mg: number): string {
  const digits = String(Math.abs(mg)).padStart(4, '0')
  const part = digits.slice(-3).replace(/0+$/u, '')
  return `${mg < 0 ? '-' : ''}${digits.slice(0, -3)}${part === '' ? '' : `.${part}`}`
}
