import { setHidden, setText } from './plan/write-sheet.ts'

/** The threading check-list keeps each tick at once; without script a button keeps them. */
const form = document.querySelector<HTMLFormElement>('form[data-threading]')
if (form) start(form)

function start(form: HTMLFormElement): void {
  const done = document.querySelector<HTMLElement>('[data-done]')
  const saved = document.querySelector('[data-saved]')
  let isSending = false
  let isWaiting = false
  const count = () => {
    const ticked = form.querySelectorAll('input[name="tablet"]:checked').length
    setText(done, String(ticked + Number(done?.dataset.elsewhere ?? 0)))
  }
  const save = async (): Promise<void> => {
    // One after the other, so that the last tick is the last that is kept.
    if (isSending) return void (isWaiting = true)
    isSending = true
    do {
      isWaiting = false
      const body = new URLSearchParams([...new FormData(form)].map(([name, value]) => [name, String(value)]))
      const isKept = await send(form.action, body)
      setText(
        saved,
        isKept ? 'Kept.' : 'Not kept: the notebook does not answer. Your ticks stand here; use the button.',
      )
      setHidden(form.querySelector('[data-save]'), isKept)
    } while (isWaiting)
    isSending = false
  }
  setHidden(form.querySelector('[data-save]'), true)
  form.addEventListener('change', () => {
    count()
    void save()
  })
  // A page that comes back from the browser's history shows ticks as they were left.
  addEventListener('pageshow', count)
}

async function send(action: string, body: URLSearchParams): Promise<boolean> {
  try {
    const answer = await fetch(action, { method: 'POST', body, redirect: 'manual' })
    // The answer to a form that was taken is a redirect, which is not followed here.
    return answer.type === 'opaqueredirect'
  } catch {
    return false
  }
}
