import { clearLoom, clearLoomOfOthers, mayLeaveLoom } from './loom/leave.ts'
import { askOthers } from './open-elsewhere.ts'
import { isUnkept, listMissing, putBack, readTyped, type TypedFields } from './typed/fields.ts'
import { showOffer, timeOf } from './typed/offer.ts'
import { followSent, noteSent, takeSaved } from './typed/sent.ts'
import { clearShelves, openShelf, type Kept, type Outcome, type Shelf } from './typed/shelf.ts'

/** After the last key. */
const PAUSE_MS = 1500

const pathOf = (address: string) => new URL(address, location.href).pathname
/** By its attribute, for a field of this name would stand before the property. */
const actionOf = (form: HTMLFormElement) => pathOf(form.getAttribute('action') ?? '')

const SAY: Readonly<Record<Outcome, (at: Date) => string>> = {
  kept: (at) => `Kept on this device, ${timeOf(at)}.`,
  full: () => 'This browser has no room left to keep what you type: save it before you leave this page.',
  'too long': () => 'This is too long to be kept on this device: save it before you leave this page.',
}

/**
 * What is typed into a form is kept on this device until it is saved, and offered when the form is opened again. On every
 * page: for the page that follows is where it shows that a form was taken, and who has signed in.
 */
const { base, whose } = document.body.dataset
if (base !== undefined && whose !== undefined) start(base, whose)

function start(base: string, whose: string): void {
  addEventListener('submit', (event) => {
    const { target } = event
    if (!(target instanceof HTMLFormElement)) return
    const action = actionOf(target)
    if (action !== `${base}sign-out`) return followSent(action)
    event.preventDefault()
    if (!mayLeaveLoom(base)) return
    clearShelves(base)
    void clearLoom(base).finally(() => target.submit())
  })
  clearLoomOfOthers(base, whose)
  // Nobody is signed in: whatever lies here waits for who typed it.
  if (whose === '') return
  const shelf = openShelf(base, whose)
  for (const place of takeSaved()) shelf.remove(place)
  const forms = [...document.querySelectorAll<HTMLFormElement>('form.form[method="post"]')]
  const visit = `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`
  const places = forms.filter((form) => !isUnkept(form)).map((form) => keepForm(form, shelf, visit))
  if (places.length === 0) return
  const openElsewhere = askOthers(shelf.name, () => places.map(({ now }) => now()))
  for (const { offer } of places) void offer(openElsewhere)
}

interface Keeping {
  /** Where the words of this form go. */
  now(): string
  offer(openElsewhere: Promise<ReadonlySet<string>>): Promise<void>
}

function keepForm(form: HTMLFormElement, shelf: Shelf, visit: string): Keeping {
  // Where an address takes several forms they say which one they are.
  const name = `${actionOf(form)} ${form.dataset.keptAs ?? ''}`
  const versionField = form.elements.namedItem('version')
  const versionNow = () => (versionField instanceof HTMLInputElement ? versionField.value : '')
  const say = statusOf(form)
  const earlier = new Set<string>()
  let place = shelf.placeOf(name, visit)
  let pause: ReturnType<typeof setTimeout> | undefined
  let isTyped = false

  const adopt = (fields: TypedFields, from: string) => {
    for (const each of Object.keys(fields)) earlier.add(each)
    place = from
  }
  const write = (isSent = false) => {
    clearTimeout(pause)
    if (!isTyped && !isSent) return
    isTyped = false
    const fields = readTyped(form, earlier)
    if (Object.keys(fields).length === 0) return shelf.remove(place)
    const at = new Date()
    say(shelf.write(place, { keptAt: at.toISOString(), version: versionNow(), isSent, fields }), at)
  }
  form.addEventListener('input', () => {
    isTyped = true
    clearTimeout(pause)
    pause = setTimeout(write, PAUSE_MS)
  })
  addEventListener('pagehide', () => write())
  document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && write())
  form.addEventListener('submit', ({ submitter }) => {
    const button = submitter instanceof HTMLButtonElement ? submitter : undefined
    // A button that only shows something, by another page, sends nothing to be saved.
    if (button?.getAttribute('formmethod') === 'get') return
    write(true)
    const before = form.dataset.clears ? shelf.list(`${form.dataset.clears} `).map(([each]) => each) : []
    noteSent([place, ...before], button?.hasAttribute('formaction') ? pathOf(button.formAction) : actionOf(form))
  })

  const offerOne = ([from, kept]: readonly [string, Kept]) => {
    const missing = listMissing(form, kept.fields)
    const isOvertaken = kept.version !== versionNow()
    if (missing.length === 0) {
      // The form came back with all of it; or it was saved after all.
      if (isOvertaken) shelf.remove(from)
      else adopt(kept.fields, from)
      return
    }
    showOffer(form, {
      ...{ kept, missing, isOvertaken },
      putBack() {
        // Saved as what it is, a change to the version of then: so both come to be shown, and neither is lost.
        const isOlder = Number(kept.version) < Number(versionNow())
        if (isOlder && versionField instanceof HTMLInputElement) versionField.value = kept.version
        for (const each of Object.keys(kept.fields)) earlier.add(each)
        const { first, homeless } = putBack(form, kept.fields)
        isTyped = true
        write()
        // What has no place here is still on the device, until the rest is saved.
        if (homeless.length === 0 && from !== place) shelf.remove(from)
        first?.focus()
        return homeless
      },
      throwAway: () => shelf.remove(from),
      takeBack: () => void shelf.write(from, kept),
    })
  }
  return {
    now: () => place,
    async offer(openElsewhere) {
      const left = shelf.list(name)
      if (left.length === 0) return
      const open = await openElsewhere
      for (const each of left) if (!open.has(each[0])) offerOne(each)
    },
  }
}

/** Said below the form; what went wrong is said once. */
function statusOf(form: HTMLFormElement): (outcome: Outcome, at: Date) => void {
  const line = document.createElement('p')
  line.className = 'kept-here soft'
  line.setAttribute('role', 'status')
  form.append(line)
  const said = new Set<Outcome>()
  return (outcome, at) => {
    if (outcome !== 'kept' && said.has(outcome)) return
    said.add(outcome)
    const text = SAY[outcome](at)
    if (line.textContent !== text) line.textContent = text
  }
}
