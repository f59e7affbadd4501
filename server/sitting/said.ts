import { STAGE_LABELS } from '../../shared/work/stage.ts'
import { durationInWords } from '../../shared/work/time-words.ts'
import type { Origin } from './origin.ts'
import type { Said, Sitting } from './queries.ts'
import { toTimes } from './view.ts'

type Told = Pick<Sitting, 'stage' | 'startedAt' | 'endedAt' | 'breakMinutes' | 'picks' | 'zone' | 'origin'> & {
  readonly said: Said | undefined
}

/** Whether the maker made something else of what steps or clock said. */
export function wasCorrected(sitting: Told): boolean {
  const { said } = sitting
  if (!said) return false
  const isSamePicks = said.picks === undefined || said.picks === sitting.picks
  const names = ['stage', 'startedAt', 'endedAt', 'breakMinutes'] as const
  return !isSamePicks || names.some((name) => said[name] !== sitting[name])
}

/** `The steps said 10:02 to 11:40, weave, breaks 6 min, 84 picks`; empty of a sitting that was typed. */
export function saySaid({ said, zone, origin }: Pick<Told, 'said' | 'zone' | 'origin'>): string {
  if (!said) return ''
  const parts = [
    toTimes({ ...said, zone }),
    STAGE_LABELS[said.stage].toLowerCase(),
    said.breakMinutes === 0 ? 'no breaks' : `breaks ${durationInWords(said.breakMinutes)}`,
    said.picks === undefined ? '' : `${said.picks} ${said.picks === 1 ? 'pick' : 'picks'}`,
  ]
  return `${TELLERS[origin]} said ${parts.filter(Boolean).join(', ')}.`
}

const TELLERS: Readonly<Record<Origin, string>> = { hand: 'Its maker', steps: 'The steps', timer: 'The clock' }
