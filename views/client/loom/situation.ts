import type { Standing } from '../../../shared/loom/view.ts'
import type { Alone } from './offline.ts'
import type { Told } from './sender.ts'

interface Situation {
  readonly isFile: boolean
  readonly isFull: boolean
  readonly pending: number
  readonly told: Told | undefined
  readonly alone: Alone
  readonly elsewhere: Standing | undefined
  /** Steps of other members that wait on this device. */
  readonly others: number
}

const steps = (count: number) => (count === 1 ? '1 step' : `${count} steps`)

/** What the maker has to know at once, and how things stand altogether. */
export function saySituation(now: Situation): { urgent: string; state: string } {
  return { urgent: sayUrgent(now), state: [saySent(now), sayAlone(now), sayOthers(now)].filter(Boolean).join(' ') }
}

function sayUrgent({ isFull, isFile, told, elsewhere }: Situation): string {
  if (isFull)
    return isFile
      ? 'This browser keeps nothing of a file: take the steps out as a file before you close it.'
      : 'This browser has no room left: the last steps are on this page alone. Leave it open until they are sent.'
  if (told?.state === 'refused') return `A step was refused and stays on this device. ${told.why}`
  if (told?.state === 'signedOut') return 'Not signed in any more: steps stay on this device until you are.'
  if (elsewhere) return `Another device is at ${elsewhere.place} picks. Go on here, or wait to follow it.`
  return ''
}

function saySent({ isFile, pending, told }: Situation): string {
  if (isFile) return `${steps(pending)} kept in this file’s browser. Bring them in as a file when you are back.`
  if (told?.state === 'away')
    return `The notebook does not answer. ${steps(pending)} wait on this device and are sent by themselves.`
  return pending === 0 ? 'Every step is in the notebook.' : `${steps(pending)} on the way to the notebook.`
}

function sayAlone({ isFile, alone }: Situation): string {
  if (isFile) return 'The screen may go dark by itself: the device’s own settings say when.'
  if (!isSecureContext)
    return (
      'Over plain http this page cannot keep the screen awake, and opens only while the notebook is in reach; ' +
      'while it is open it needs neither. For a place without network take it along as a file.'
    )
  const awake = alone.staysAwake ? 'The screen stays awake.' : 'The screen may go dark by itself.'
  return `${awake} ${alone.opens ? 'This page opens without network now.' : ''}`.trim()
}

const sayOthers = ({ others }: Situation): string =>
  others === 0 ? '' : `${steps(others)} of somebody else wait on this device, until they sign in on it.`
