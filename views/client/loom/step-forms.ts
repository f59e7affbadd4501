import { MOST_PLACE, type StepKind } from '../../../shared/loom/step.ts'

interface Given {
  /** Of one repeat. */
  readonly picks: number
  readonly place: () => number
  readonly step: (kind: StepKind, place: number, note: string) => void
}

const LONGEST_NOTE = 300

/** The form of the fold, which sends a step where there is no script: the place set by hand, several picks taken out, a slip in words. */
export function listenToForms(root: HTMLElement, { picks, place, step }: Given): void {
  const form = root.querySelector<HTMLFormElement>('[data-step-form]')
  form?.addEventListener('submit', (event) => {
    event.preventDefault()
    const typed = new FormData(form)
    const { submitter } = event
    const kind = (submitter instanceof HTMLButtonElement ? submitter.value : 'set') as StepKind
    const target = targetOf(kind, typed, place(), picks)
    if (target === undefined) {
      const most = kind === 'set' ? `A repeat from 1, and a pick from 1 to ${picks}` : `From 1 to ${place()}`
      return complain(form.querySelector(`[name=${kind === 'set' ? 'repeat' : 'picks'}]`), `${most}, please.`)
    }
    step(
      kind,
      target,
      String(typed.get('note') ?? '')
        .trim()
        .slice(0, LONGEST_NOTE),
    )
    for (const input of form.querySelectorAll<HTMLInputElement>('input:not([type=hidden])')) input.value = ''
  })
}

/** Said beside the field, by the browser's own means. */
export function complain(field: HTMLInputElement | HTMLTextAreaElement | null, text: string): void {
  field?.setCustomValidity(text)
  field?.reportValidity()
  field?.addEventListener('input', () => field.setCustomValidity(''), { once: true })
}

/** Undefined where what was typed is no place. */
function targetOf(kind: StepKind, typed: FormData, place: number, picks: number): number | undefined {
  const number = (name: string) => {
    const text = String(typed.get(name) ?? '').trim()
    return /^\d{1,8}$/.test(text) ? Number(text) : 0
  }
  const [repeat, pick, several] = [number('repeat'), number('pick'), number('picks')]
  if (kind === 'set' && (repeat < 1 || pick < 1 || pick > picks)) return undefined
  if (kind === 'unwoven' && several < 1) return undefined
  const target = kind === 'set' ? (repeat - 1) * picks + pick - 1 : kind === 'unwoven' ? place - several : place
  return target >= 0 && target <= MOST_PLACE ? target : undefined
}
