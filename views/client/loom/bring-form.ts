import { bringIn } from './step-file.ts'
import { complain } from './step-forms.ts'

/** The form that brings in what a page that was taken along has kept; with script a file can be chosen. */
export function listenToBringing(form: HTMLFormElement, path: string, piece: string): void {
  const area = form.querySelector('textarea')
  const input = form.querySelector<HTMLInputElement>('input[type=file]')
  const choose = form.querySelector<HTMLElement>('[data-choose-file]')
  if (!area || !input || !choose) return
  choose.hidden = false
  input.addEventListener('change', () => void input.files?.[0]?.text().then((text) => (area.value = text)))
  form.addEventListener('submit', (event) => {
    event.preventDefault()
    void bringIn(path, piece, area.value).then((wrong) => {
      if (wrong === '') location.reload()
      else complain(area, wrong)
    })
  })
}
