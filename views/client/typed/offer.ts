import type { TypedField } from './fields.ts'
import type { Kept } from './shelf.ts'

/** So many fields are named; the others are counted. */
const MOST_FIELDS = 12
const MOST_CHARACTERS = 160

interface Offer {
  readonly kept: Kept
  /** What the form does not say as it stands. */
  readonly missing: readonly TypedField[]
  /** Whether what the form changes was saved by somebody since. */
  readonly isOvertaken: boolean
  /** @returns what found no place */
  putBack(): readonly TypedField[]
  throwAway(): void
  takeBack(): void
}

/** Asks above a form what is to become of what was typed there before. It stays on the device until that is answered. */
export function showOffer(form: HTMLFormElement, offer: Offer): void {
  const box = element('section', 'notice typed-offer')
  box.setAttribute('role', 'status')
  box.tabIndex = -1
  const ask = () => {
    box.replaceChildren(
      element('p', '', sayWhen(offer.kept)),
      ...(offer.isOvertaken ? [element('p', '', OVERTAKEN)] : []),
      listFields(offer.missing),
      actions(
        button('Put it back', () => {
          const homeless = offer.putBack()
          if (homeless.length === 0) return box.remove()
          box.replaceChildren(element('p', '', HOMELESS), listFields(homeless, Infinity))
        }),
        button('Throw it away', () => {
          offer.throwAway()
          const back = button('Undo', () => {
            offer.takeBack()
            ask()
            box.focus()
          })
          box.replaceChildren(element('p', '', 'Thrown away.'), actions(back))
          back.focus()
        }),
      ),
    )
  }
  ask()
  form.before(box)
}

const OVERTAKEN =
  'Another version was saved since then. If you put yours back and save it, both are shown side by side first.'
const HOMELESS = 'Put back, but for this: the form has no place for it as it stands.'

export const timeOf = (instant: Date): string =>
  instant.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })

function sayWhen({ keptAt, isSent }: Kept): string {
  const at = new Date(keptAt)
  const when = `${at.toLocaleDateString('en-GB', { day: 'numeric', month: 'long' })}, ${timeOf(at)}`
  return isSent
    ? `You sent what you had typed here on ${when}, and this device did not hear whether it was saved.`
    : `You typed something here on ${when} and did not save it.`
}

function listFields(fields: readonly TypedField[], most = MOST_CHARACTERS): HTMLElement {
  const list = element('dl', 'facts')
  for (const { label, value, says } of fields.slice(0, MOST_FIELDS)) {
    const text = says || value || '(empty)'
    list.append(
      element('dt', '', label),
      element('dd', '', text.length > most ? `${text.slice(0, most).trimEnd()} …` : text),
    )
  }
  if (fields.length > MOST_FIELDS)
    list.append(element('dt', '', 'And'), element('dd', '', `${fields.length - MOST_FIELDS} fields more`))
  return list
}

function actions(...buttons: readonly HTMLElement[]): HTMLElement {
  const line = element('p', 'actions')
  line.append(...buttons)
  return line
}

function button(label: string, act: () => void): HTMLButtonElement {
  const one = document.createElement('button')
  one.type = 'button'
  one.className = 'quiet'
  one.textContent = label
  one.addEventListener('click', act)
  return one
}

function element(tag: string, className: string, text = ''): HTMLElement {
  const one = document.createElement(tag)
  if (className) one.className = className
  one.textContent = text
  return one
}
