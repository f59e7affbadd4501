import type { TypedFields } from './fields.ts'

/** What was typed into one form on one visit and is not saved. */
export interface Kept {
  /** An instant, ISO. */
  readonly keptAt: string
  /** Of what the form changes; empty for something new. */
  readonly version: string
  /** Whether it was sent, and this browser did not hear what became of it. */
  readonly isSent: boolean
  readonly fields: TypedFields
}

/** As much as one form may take: the whole browser has some five million characters for a site. */
const MOST_CHARACTERS = 300_000
const DAYS = 30

export type Outcome = 'kept' | 'full' | 'too long'

/** The part of this browser's storage in which one member's words lie, until they are saved or thrown away. */
export interface Shelf {
  readonly name: string
  /** Words of this form, the oldest first, by their places. */
  list(form: string): readonly (readonly [place: string, kept: Kept])[]
  placeOf(form: string, visit: string): string
  write(place: string, kept: Kept): Outcome
  remove(place: string): void
}

/**
 * The shelf of whoever is signed in. Words of anybody else who used this browser are taken away; so is what has lain for 30 days.
 * @param base path of the notebook, for two may share a host
 * @param whose the member's number
 */
export function openShelf(base: string, whose: string): Shelf {
  const name = nameOf(base)
  const own = `${name} ${whose} `
  quietly(() => {
    if (localStorage.getItem(name) !== whose) removeAll(name, own)
    localStorage.setItem(name, whose)
    for (const place of listPlaces(own)) if (isOld(readKept(place))) localStorage.removeItem(place)
  })
  return {
    name,
    list: (form) =>
      (quietly(() => listPlaces(`${own}${form} `)) ?? [])
        .flatMap((place) => {
          const kept = readKept(place)
          return kept ? [[place, kept] as const] : []
        })
        .toSorted(([, one], [, other]) => (one.keptAt < other.keptAt ? -1 : 1)),
    placeOf: (form, visit) => `${own}${form} ${visit}`,
    write(place, kept) {
      const text = JSON.stringify(kept)
      if (text.length > MOST_CHARACTERS) return 'too long'
      // Somebody signed out, or in as another, in a window beside this one: its words are nothing to leave behind.
      const isOver = quietly(() => localStorage.getItem(name) !== whose) ?? false
      if (isOver) return 'kept'
      return quietly(() => (localStorage.setItem(place, text), 'kept' as const)) ?? 'full'
    },
    remove: (place) => void quietly(() => localStorage.removeItem(place)),
  }
}

/** Whoever signs out leaves nothing in this browser that they typed. */
export const clearShelves = (base: string): void =>
  void quietly(() => {
    removeAll(nameOf(base))
    localStorage.setItem(nameOf(base), '')
  })

const nameOf = (base: string) => `fellmark typed ${base}`

const listPlaces = (prefix: string) => Object.keys(localStorage).filter((key) => key.startsWith(prefix))

function removeAll(name: string, but?: string): void {
  for (const place of listPlaces(`${name} `))
    if (but === undefined || !place.startsWith(but)) localStorage.removeItem(place)
}

function readKept(place: string): Kept | undefined {
  return quietly(() => {
    const kept = JSON.parse(localStorage.getItem(place) ?? 'null') as Partial<Kept> | null
    return typeof kept?.keptAt === 'string' && typeof kept.fields === 'object' ? (kept as Kept) : undefined
  })
}

const isOld = (kept: Kept | undefined) =>
  kept === undefined || Date.now() - Date.parse(kept.keptAt) > DAYS * 24 * 60 * 60 * 1000

/** A browser that keeps nothing has nothing to tell and nothing to forget. */
function quietly<T>(act: () => T): T | undefined {
  try {
    return act()
  } catch {
    return undefined
  }
}
