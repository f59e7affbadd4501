import { loadPicture } from './picture.ts'

/** A photograph chosen as a file, dropped, or picked among those of the notebook; `ready` works on what the canvas shows. */
export function openPhotograph(
  root: HTMLElement,
  form: HTMLFormElement,
  canvas: HTMLCanvasElement,
  ready: () => Promise<void>,
): void {
  const status = root.querySelector<HTMLElement>('[data-status]')
  const field = form.querySelector<HTMLInputElement>('[data-photo-field]')
  const file = root.querySelector<HTMLInputElement>('[data-file]')
  const drop = root.querySelector<HTMLElement>('[data-drop]')
  if (!status || !file) return
  const buttons = [...root.querySelectorAll<HTMLButtonElement>('[data-photo]')]
  let turn = 0

  const open = async (name: string, photoId: string, load: () => Promise<Blob>) => {
    const own = ++turn
    status.textContent = `Opening ${name} …`
    const blob = await load().catch(() => undefined)
    if (own !== turn) return
    const loaded = blob ? await loadPicture(blob, canvas) : 'The photograph could not be fetched.'
    if (own !== turn) return
    if (typeof loaded === 'string') return void (status.textContent = loaded)
    if (field) field.value = photoId
    for (const button of buttons) button.ariaPressed = String(button.dataset.photo === photoId)
    const { width, height, wholeWidth, wholeHeight } = loaded
    const whole =
      width < wholeWidth
        ? ` It is worked on at ${width} × ${height} instead of ${wholeWidth} × ${wholeHeight} pixels.`
        : ''
    // It is open now; what is done with it next says itself how far it is.
    status.textContent = `${name}: ${width} × ${height} pixels.${whole}`
    await ready()
  }

  file.addEventListener('change', () => {
    const chosen = file.files?.[0]
    if (chosen) void open(chosen.name, '', () => Promise.resolve(chosen))
  })
  drop?.addEventListener('dragover', (event) => {
    event.preventDefault()
    drop.classList.add('is-over')
  })
  for (const end of ['dragleave', 'drop'] as const) drop?.addEventListener(end, () => drop.classList.remove('is-over'))
  drop?.addEventListener('drop', (event) => {
    event.preventDefault()
    const dropped = event.dataTransfer?.files[0]
    if (dropped) void open(dropped.name, '', () => Promise.resolve(dropped))
  })
  for (const button of buttons) {
    const pick = () =>
      void open(button.textContent?.trim() || 'the photograph', button.dataset.photo ?? '', async () => {
        const answer = await fetch(button.dataset.src ?? '')
        if (!answer.ok) throw new Error(String(answer.status))
        return answer.blob()
      })
    button.addEventListener('click', pick)
    if (button.dataset.chosen !== undefined) pick()
  }
}
