import { type KeptStep, MOST_SENT } from '../../../shared/loom/queue.ts'

interface StepFile {
  readonly format: 'fellmark-loom-steps'
  readonly version: 1
  readonly piece: string
  readonly device: string
  readonly steps: readonly KeptStep[]
}

/** Hands the steps that this device keeps to its owner, as a file. */
export function saveSteps(piece: string, device: string, steps: readonly KeptStep[]): void {
  const file: StepFile = { format: 'fellmark-loom-steps', version: 1, piece, device, steps }
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([JSON.stringify(file, null, 1)], { type: 'application/json' }))
  link.download = `loom-steps-${new Date().toISOString().slice(0, 10)}.json`
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000)
}

/**
 * Brings a file's steps in, however many: they are sent as the page sends its own.
 * @returns what went wrong, in a sentence; empty when all are in
 */
export async function bringIn(path: string, piece: string, typed: string): Promise<string> {
  let file: Partial<StepFile> | null
  try {
    file = JSON.parse(typed) as Partial<StepFile> | null
  } catch {
    return 'This is no JSON.'
  }
  if (file?.format !== 'fellmark-loom-steps' || !Array.isArray(file.steps))
    return 'This is no file of steps at the loom.'
  if (file.piece !== piece) return 'These are steps of another piece.'
  for (let at = 0; at < file.steps.length; at += MOST_SENT) {
    const steps = file.steps.slice(at, at + MOST_SENT)
    try {
      const answer = await fetch(`${path}/steps`, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify({ device: file.device, sentAt: null, steps }),
        redirect: 'manual',
      })
      if (answer.status === 422) {
        const { path: place, why } = (await answer.json()) as { path: string; why: string }
        return `${place}: ${why} ${at} of ${file.steps.length} steps are in.`
      }
      if (!answer.ok) return `The notebook does not take them now. ${at} of ${file.steps.length} steps are in.`
    } catch {
      return `The notebook does not answer. ${at} of ${file.steps.length} steps are in; the rest can be brought again.`
    }
  }
  return ''
}
