import { type KeyTask, type KeyMap, sayKey, teach, USUAL_KEYS } from '../../../shared/loom/key-map.ts'
import type { Gate } from './press.ts'
import type { Settings } from './settings.ts'
import type { Speech } from './speech.ts'

interface Given {
  readonly gate: Gate
  readonly speech: Speech
  readonly settings: () => Settings
  readonly change: (settings: Settings) => void
}

const WORDS = ['forward', 'back', 'idle', 'half'] as const

/** The form of how the page looks, sounds and listens; each change holds at once. */
export function startSettings(form: HTMLFormElement, { gate, speech, settings, change }: Given): void {
  const field = <T extends Element = HTMLInputElement>(name: string) => form.elements.namedItem(name) as unknown as T
  const show = () => {
    const now = settings()
    field('size').value = String(now.size)
    for (const name of ['contrast', 'left', 'tick', 'speak'] as const) field(name).checked = now[name]
    field('pace').value = String(now.pace)
    const voice = field<HTMLSelectElement>('voice')
    if (now.voice !== '') voice.value = now.voice
    for (const word of WORDS) field(word).value = now.words[word]
    for (const each of form.querySelectorAll<HTMLElement>('[data-speech]')) each.hidden = voice.options.length === 0
    const words = form.querySelector<HTMLElement>('[data-words]')
    if (words) words.hidden = !speech.needsWords(now)
    const size = form.querySelector('[data-size-says]')
    if (size) size.textContent = `${now.size} px`
    sayKeys(now.taught)
  }
  const sayKeys = (taught: KeyMap) => {
    const place = form.querySelector('[data-keys]')
    const keys = (task: KeyTask) => [...taught[task], ...USUAL_KEYS[task]].map(sayKey).join(', ')
    if (place) place.textContent = `Next: ${keys('next')}. Back: ${keys('back')}.`
  }
  form.addEventListener('input', () => {
    change({
      ...settings(),
      size: Number(field('size').value),
      ...{ contrast: field('contrast').checked, left: field('left').checked, tick: field('tick').checked },
      ...{ speak: field('speak').checked, voice: field<HTMLSelectElement>('voice').value },
      pace: Number(field('pace').value),
      words: Object.fromEntries(WORDS.map((word) => [word, field(word).value])) as Settings['words'],
    })
    show()
  })
  form.addEventListener('submit', (event) => event.preventDefault())
  for (const button of form.querySelectorAll<HTMLElement>('[data-teach]')) {
    button.addEventListener('click', () => {
      const label = button.textContent
      button.textContent = 'Press the key or pedal; Escape for none'
      gate.teach((key) => {
        button.textContent = label
        if (key === undefined) return
        change({ ...settings(), taught: teach(settings().taught, button.dataset.teach as KeyTask, key) })
        show()
      })
    })
  }
  form.querySelector('[data-forget]')?.addEventListener('click', () => {
    change({ ...settings(), taught: { next: [], back: [] } })
    show()
  })
  form.hidden = false
  speech.offer(field<HTMLSelectElement>('voice'), show)
  show()
}
