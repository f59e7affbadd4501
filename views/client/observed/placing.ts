import { type BandMarks, STRAIGHT } from '../../../shared/observed/band-map.ts'
import type { CountOffer } from '../../../shared/observed/period.ts'
import { addHandles, type Handles } from './handle.ts'
import { type Kept, marksIn } from './kept.ts'
import { lengthsPanel } from './lengths.ts'
import { firstMarking, handleSpecs, mapOf, sayView } from './marking.ts'
import type { Ask, RhythmAnswer } from './message.ts'
import { drawGrid, drawLoupe } from './overlay.ts'

export interface Placing {
  readonly marks: () => BandMarks | undefined
  /** Lays handles on the picture: where they were kept, or where they are easily found. */
  readonly begin: (kept: Kept | undefined) => void
  readonly onMoved: (moved: () => void) => void
}

/** Corners, bend, counts and scale on the photograph. */
export function placing(
  root: HTMLElement,
  form: HTMLFormElement,
  canvas: HTMLCanvasElement,
  ask: (ask: Ask) => Promise<unknown>,
): Placing {
  const find = <E extends HTMLElement>(name: string) => root.querySelector<E>(`[data-${name}]`)!
  const [stage, grid, loupe] = [find('stage'), find<HTMLCanvasElement>('grid'), find<HTMLCanvasElement>('loupe')]
  const [status, scale] = [find('place-status'), find<HTMLDetailsElement>('scale')]
  const [tablets, picks] = [find<HTMLInputElement>('tablets'), find<HTMLInputElement>('picks')]
  const field = form.querySelector<HTMLInputElement>('[data-marks]')
  const marking = firstMarking(1, 1)
  let handles: Handles | undefined
  let frame = 0
  let moved = () => {}

  const count = (input: HTMLInputElement, most: number) => {
    const typed = /^\d{1,5}$/.test(input.value.trim()) ? Number(input.value) : 0
    return typed >= 1 && typed <= most ? typed : undefined
  }
  const marksWith = (wide: number, long: number): BandMarks => ({
    ...{ corners: marking.corners, bend: marking.bend, tablets: wide, picks: long },
  })
  const marks = () => {
    const [wide, long] = [count(tablets, 400), count(picks, 20_000)]
    return wide && long && handles ? marksWith(wide, long) : undefined
  }
  const lengths = lengthsPanel(scale, () => (handles ? { ...marking, picks: count(picks, 20_000) ?? 1 } : undefined))

  const draw = () => {
    frame = 0
    const now = marks()
    const shownBars = [0, 1].filter((bar) => scale.open && (bar === 0 || lengths.has(1)))
    handles?.place(({ kind, name }) => kind !== 'bar' || shownBars.includes(name.startsWith('S') ? 0 : 1))
    drawGrid(
      grid,
      canvas,
      now,
      now && mapOf(now),
      shownBars.map((bar) => marking.bars[bar]!),
    )
    if (scale.open) lengths.show()
  }
  const update = () => {
    frame ||= requestAnimationFrame(draw)
  }
  const changed = () => {
    const now = marks()
    status.textContent = now
      ? sayView(marking.corners)
      : 'Say how many tablets (1 to 400) and picks (1 to 20,000) lie between the corners.'
    if (field) field.value = now ? JSON.stringify({ ...now, width: canvas.width, height: canvas.height }) : ''
    moved()
    update()
  }
  for (const input of [tablets, picks]) input.addEventListener('input', changed)
  scale.addEventListener('toggle', update)
  scale.addEventListener('input', update)
  addEventListener('resize', update)

  const begin = (kept: Kept | undefined) => {
    // The stage is as high as a window at most, so that a tall photograph is seen whole.
    stage.style.maxWidth = `calc(85vh * ${canvas.width / canvas.height})`
    Object.assign(marking, firstMarking(canvas.width, canvas.height), { bend: STRAIGHT })
    if (kept) {
      Object.assign(marking, marksIn(kept, canvas.width, canvas.height))
      tablets.value = String(kept.marks.tablets)
      picks.value = String(kept.marks.picks)
    }
    handles ??= addHandles(
      stage,
      canvas,
      handleSpecs(marking, () => marksWith(count(tablets, 400) ?? 1, count(picks, 20_000) ?? 1)),
      {
        changed,
        looked: (at) => drawLoupe(loupe, canvas, at),
      },
    )
    changed()
  }

  const offer = (direction: 'across' | 'along', offers: readonly CountOffer[], input: HTMLInputElement) => {
    const place = root.querySelector<HTMLElement>(`[data-offers="${direction}"]`)
    const buttons = offers.map(({ count: offered, strength }) => {
      const button = document.createElement('button')
      button.type = 'button'
      button.className = 'quiet'
      button.textContent = `Take ${offered}`
      const said = `its rhythm stands out ${strength.toFixed(1)} times`
      button.title = said
      button.setAttribute('aria-label', `Take ${offered}: ${said}`)
      button.addEventListener('click', () => {
        input.value = String(offered)
        changed()
        input.focus()
      })
      const words = document.createElement('span')
      words.className = 'soft'
      words.textContent = `${strength.toFixed(1)} ×`
      const pair = document.createElement('span')
      pair.append(button, ' ', words)
      return pair
    })
    place?.replaceChildren(...(buttons.length > 0 ? buttons : ['No rhythm stands out.']))
  }
  const findRhythm = async () => {
    if (!handles) return
    status.textContent = 'Looking for the rhythm …'
    try {
      const answer = (await ask({ what: 'rhythm', marks: marksWith(2, 2) })) as RhythmAnswer
      offer('across', answer.across, tablets)
      offer('along', answer.along, picks)
      status.textContent =
        'Offered beside both counts, with how far each stands out from other rhythms; under 3 says little. A pattern has rhythms too: look whether the grid fits.'
    } catch (error) {
      status.textContent = `The rhythm was not found: ${error instanceof Error ? error.message : 'unknown'}.`
    }
  }
  find('rhythm').addEventListener('click', () => void findRhythm())
  return { marks, begin, onMoved: (then) => (moved = then) }
}
