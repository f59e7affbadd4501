import type { Counts } from './queries.ts'

/** One step of the main job, in its order. */
export interface Step {
  readonly title: string
  readonly text: string
  readonly action: string
  readonly path: string
  readonly isDone: boolean
}

export function stepsOf({ originals, drafts, pieces }: Pick<Counts, 'originals' | 'drafts' | 'pieces'>): Step[] {
  return [
    {
      title: 'Record an original',
      text: 'Who holds it, and what is known of it: each measurement with its source, its uncertainty, or why there is none.',
      action: 'Record an original',
      path: '/originals/new',
      isDone: originals > 0,
    },
    {
      title: 'Enter its draft',
      text: 'Threading and turning as text. You see the band woven while you type, with its floats and its twist.',
      action: 'Enter a draft',
      path: '/drafts/new',
      isDone: drafts > 0,
    },
    {
      title: 'Weave, and compare',
      text: 'Record the piece, its readings and its sittings; then see original and piece side by side: scale, density, pace.',
      action: 'Record a piece',
      path: '/pieces/new',
      isDone: pieces > 0,
    },
  ]
}
