import type { Colour, ColourKey } from '../../../shared/draft/draft.ts'
import { readColourText } from '../../../shared/draft/entry/colour-text.ts'
import { countLegible } from '../../../shared/draft/infer/observed.ts'
import { writeObserved } from '../../../shared/draft/infer/observed-text.ts'
import type { BandMarks } from '../../../shared/observed/band-map.ts'
import { lookAgain } from '../../../shared/observed/look-again.ts'
import { nameColours } from '../../../shared/observed/name-colours.ts'
import { toObservedFace } from '../../../shared/observed/to-face.ts'
import { colourList } from './colour-list.ts'
import { facePicture, type FaceNow } from './face.ts'
import { correctionsFrom, type Kept } from './kept.ts'
import type { Ask, ReadAnswer } from './message.ts'

export interface Reading {
  /** The marks were moved: what was read stands for a moment that is past. */
  readonly stale: () => void
  /** Another photograph. */
  readonly clear: () => void
  /** Reads the cells once more and sets them as they were kept. */
  readonly readKept: (kept: Kept) => Promise<void>
  readonly onRead: (read: () => void) => void
}

interface Around {
  readonly ask: (ask: Ask) => Promise<unknown>
  readonly marks: () => BandMarks | undefined
  readonly picture: () => HTMLCanvasElement
}

/** Colours and cells: read, named, put right, and written into the form. */
export function reading(root: HTMLElement, form: HTMLFormElement, { ask, marks }: Around): Reading {
  const find = <E extends HTMLElement>(name: string) => root.querySelector<E>(`[data-${name}]`)!
  const [status, k, least] = [find('read-status'), find<HTMLInputElement>('k'), find<HTMLInputElement>('least')]
  const [slants, palette] = [find<HTMLInputElement>('slants'), find('palette')]
  const area = (name: string) => form.querySelector<HTMLTextAreaElement>(`textarea[name="${name}"]`)
  const corrections = new Map<number, ColourKey | null>()
  let answer: ReadAnswer | undefined
  let read = () => {}

  const colours = colourList(find('found'), () => update())
  const leastNow = () => {
    const typed = Number(least.value.replace(',', '.'))
    return Number.isFinite(typed) ? Math.min(0.999, Math.max(0, typed / 100)) : 0.9
  }
  const faceNow = () => {
    if (!answer) return undefined
    const keys = colours.now().map(({ key }) => key)
    return toObservedFace(answer.read, keys, leastNow(), corrections, answer.slants)
  }
  const shown = (): FaceNow | undefined => {
    const face = faceNow()
    if (!face || !answer) return undefined
    const { tablets, picks } = answer.read
    const hexOf = new Map(keyed().map(({ key, hex }) => [key, hex]))
    return { tablets, picks, cells: face.cells, hexOf, corrected: new Set(corrections.keys()), say: sayCell }
  }
  /** Each key once, with the colour of the largest group that has it. */
  const keyed = () => {
    const seen = new Map<ColourKey, { key: ColourKey; name: string; hex: string }>()
    colours.now().forEach(({ key, name }, at) => {
      if (key !== null && !seen.has(key)) seen.set(key, { key, name, hex: answer!.read.colours[at]!.hex })
    })
    return [...seen.values()]
  }
  const sayCell = (cell: number) => {
    const { tablets, labels, confidence } = answer!.read
    const named = colours.now()
    const key = faceNow()!.cells[Math.floor(cell / tablets)]![cell % tablets]!
    const name = key === null ? 'not legible' : (keyed().find((one) => one.key === key)?.name ?? key)
    const seen = named[labels[cell]!]
    const sure = `${Math.round(100 * confidence[cell]!)} % sure of ${seen?.name ?? 'nothing'}`
    const how = corrections.has(cell) ? `set by you; read: ${sure}` : sure
    return `Pick ${Math.floor(cell / tablets) + 1}, tablet ${(cell % tablets) + 1}: ${name} (${how})`
  }

  const picture = facePicture(
    find('face'),
    find<HTMLCanvasElement>('face-canvas'),
    find('cell-status'),
    shown,
    (cell, key) => {
      if (key === undefined) corrections.delete(cell)
      else corrections.set(cell, key)
      write()
    },
  )

  const write = () => {
    const face = faceNow()
    if (!face) return
    const [text, list] = [area('observed'), area('colours')]
    if (text) text.value = writeObserved(face)
    if (list)
      list.value = keyed()
        .map(({ key, name, hex }) => `${key} ${name} ${hex}`)
        .join('\n')
    const { cells, legible } = countLegible(face)
    const own = corrections.size === 0 ? '' : ` ${corrections.size.toLocaleString('en-GB')} set by you.`
    const light = answer!.read.lightRatio
    const guess = countLegible(face).slants > 0 ? '' : ' No slants were read: S and Z are a guess.'
    status.textContent = `${legible.toLocaleString('en-GB')} of ${cells.toLocaleString('en-GB')} cells are legible.${own} Uneven light taken off: brightest ${light.toFixed(2)} times the darkest.${guess}`
  }
  const update = () => {
    palette.replaceChildren(
      ...keyed().map(({ key, name }, at) => button(`${at + 1} ${name}`, key)),
      button('. not legible', null),
      button('as read', undefined),
    )
    write()
    picture.draw()
  }
  const button = (words: string, key: ColourKey | null | undefined) => {
    const one = document.createElement('button')
    one.type = 'button'
    one.className = 'quiet'
    one.textContent = words
    one.addEventListener('click', () => picture.choose(key))
    return one
  }

  /** Keys that are known already: of this list, of the draft to compare with, or typed in the form. */
  const known = (): Readonly<Record<ColourKey, Colour>> => {
    if (answer) return Object.fromEntries(keyed().map(({ key, ...colour }) => [key, colour]))
    const chosen = form.querySelector<HTMLSelectElement>('[data-revision]')?.selectedOptions[0]?.dataset.colours
    if (chosen) return JSON.parse(chosen) as Record<ColourKey, Colour>
    const typed = readColourText(area('colours')?.value ?? '')
    return typed.problems.length === 0 ? typed.colours : {}
  }

  const readCells = async (kept?: Kept) => {
    const now = marks()
    if (!now) return void (status.textContent = 'First say how many tablets and picks there are.')
    const typed = k.value.trim()
    if (typed !== '' && !/^[1-8]$/.test(typed))
      return void (status.textContent = 'Say how many colours: 1 to 8, or leave it empty.')
    status.textContent = 'Reading …'
    try {
      const next = (await ask({
        what: 'read',
        marks: now,
        k: typed === '' ? undefined : Number(typed),
        slants: slants.checked,
      })) as ReadAnswer
      const named = nameColours(
        next.read.colours.map(({ lab }) => lab),
        kept?.colours ?? known(),
      )
      if (answer && answer.read.labels.length !== next.read.labels.length) corrections.clear()
      answer = next
      if (typed === '') k.value = String(next.read.colours.length)
      const doubts = lookAgain(
        next.read,
        named.map(({ key }) => key),
      )
      colours.show(next.read.colours, named, doubts)
      const face = kept && faceNow()
      if (face) for (const [cell, key] of correctionsFrom(kept, face)) corrections.set(cell, key)
      // The section must be seen before its cells can be measured.
      read()
      update()
    } catch (error) {
      status.textContent = `The cells could not be read: ${error instanceof Error ? error.message : 'unknown'}.`
    }
  }
  find('read').addEventListener('click', () => void readCells())
  least.addEventListener('input', () => answer && update())
  addEventListener('resize', () => picture.draw())
  const readKept = (kept: Kept) => {
    k.value = String(Math.max(1, Object.keys(kept.colours).length))
    slants.checked = kept.face.slants !== undefined
    return readCells(kept)
  }
  return {
    readKept,
    stale: () => {
      if (answer) status.textContent = 'The marks have moved: read the cells again.'
    },
    clear: () => {
      answer = undefined
      corrections.clear()
      status.textContent = ''
    },
    onRead: (then) => (read = then),
  }
}
