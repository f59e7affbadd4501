import type { KeptStep } from '../../shared/loom/queue.ts'

export const DEVICE = 'd'.repeat(32)
export const uidOf = (number: number): string => number.toString(16).padStart(32, '0')

/** A step as a device sends it: pick `seq` woven, a second after the one before. */
export function makeStep(seq: number, changes: Partial<KeptStep> = {}): KeptStep {
  return {
    ...{
      uid: uidOf(seq),
      seq,
      kind: 'woven',
      place: seq,
      zone: 'Europe/Berlin',
      revision: null,
      after: null,
      note: '',
    },
    deviceAt: new Date(Date.parse('2026-11-24T11:00:00.000Z') + seq * 1000).toISOString(),
    ...changes,
  }
}

export const SENT_AT = '2026-11-24T12:00:00.000Z'
