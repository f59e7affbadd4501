import type { KeyTask } from '../../shared/loom/key-map.ts'
import { shelfOf } from '../../shared/loom/queue.ts'
import { MOST_PLACE, type StepKind } from '../../shared/loom/step.ts'
import { type LoomFacts, loomOf, type Standing } from '../../shared/loom/view.ts'
import { listenToBringing } from './loom/bring-form.ts'
import { openDrawer } from './loom/drawer.ts'
import { openKeeper } from './loom/keeper.ts'
import { listenForPresses } from './loom/press.ts'
import { startSending, type Told } from './loom/sender.ts'
import { readSettings, type Settings } from './loom/settings.ts'
import { startSettings } from './loom/settings-form.ts'
import { showPlace } from './loom/show.ts'
import { type Alone, standAlone } from './loom/offline.ts'
import { newTick } from './loom/sounds.ts'
import { openSpeech } from './loom/speech.ts'
import { saySituation } from './loom/situation.ts'
import { saveSteps } from './loom/step-file.ts'
import { listenToForms } from './loom/step-forms.ts'

/** The page beside the loom: each step is kept here at once and sent when it can be; nothing waits for the network. */
const root = document.querySelector<HTMLElement>('[data-loom]')
if (root?.dataset.loom) start(root, JSON.parse(root.dataset.loom) as LoomFacts)

/** A page that was left alone so long goes where another device has gone on to. */
const IDLE_MS = 20_000

function start(root: HTMLElement, facts: LoomFacts): void {
  const { path = '', worker = '', member = '0' } = root.dataset
  const isFile = path === ''
  const base = isFile ? 'file' : (document.body.dataset.base ?? '/')
  const drawer = openDrawer()
  const loom = loomOf(facts)
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone || (root.dataset.zone ?? 'UTC')
  const whose = { base, piece: facts.piece.uid, member: Number(member), revision: facts.revision.id, zone }
  const keeper = openKeeper(drawer, whose, facts.latest)
  const settingsName = `${shelfOf(base)}settings`
  let settings = readSettings(drawer, settingsName)
  const speech = openSpeech(loom)
  const tick = newTick()
  const find = <T extends HTMLElement>(name: string) => root.querySelector<T>(`[data-${name}]`)
  const more = find<HTMLDetailsElement>('more')
  let isFull = false
  let told: Told | undefined
  let alone: Alone = { opens: false, staysAwake: false }
  let elsewhere: Standing | undefined
  let lastPressMs = -Infinity
  let says = find('says')?.textContent ?? ''
  let sendNow: () => void = () => undefined

  const showSituation = () => {
    const pending = keeper.pending().length
    const situation = saySituation({ isFile, isFull, pending, told, alone, elsewhere, others: keeper.countOthers() })
    const changed = told?.revision !== undefined && told.revision !== facts.revision.id && told.revision !== null
    const place = find('says')
    const reload = changed
      ? 'The piece is woven by another draft revision now. Load the page anew to go by it; the place stays.'
      : ''
    const text = situation.urgent || reload || says
    if (place && place.textContent !== text) place.textContent = text
    const state = find('state')
    if (state) state.textContent = situation.state
    const wait = find('wait')
    if (wait) wait.textContent = !isFile && pending > 0 && told?.state !== 'sent' ? `${pending} wait` : ''
    const save = find<HTMLButtonElement>('save-steps')
    if (save) save.hidden = !isFile && pending === 0
  }
  const show = () => {
    root.classList.toggle('loom-contrast', settings.contrast)
    root.classList.toggle('loom-left', settings.left)
    root.classList.toggle('loom-paused', keeper.standing().kind === 'pause')
    showPlace(root, loom, keeper.standing().place, settings.size)
    showSituation()
  }
  const step = (kind: StepKind, place: number, note = '') => {
    const before = keeper.standing().place
    if (place < 0 || place > MOST_PLACE) return
    if (kind === 'back' && before === 0) return
    isFull = keeper.keep(kind, place, note) === 'full'
    lastPressMs = performance.now()
    elsewhere = undefined
    says = SAID[kind] ?? ''
    show()
    if (settings.tick && place !== before) tick(kind === 'woven')
    if (settings.speak && place !== before) speech.say(place, settings)
    sendNow()
  }
  const press = (task: KeyTask) => {
    const { place } = keeper.standing()
    step(task === 'next' ? 'woven' : 'back', task === 'next' ? place + 1 : place - 1)
  }
  /** Follows another device once nobody works here. */
  const follow = () => {
    if (!elsewhere || performance.now() - lastPressMs < IDLE_MS) return
    keeper.adopt(elsewhere)
    elsewhere = undefined
    show()
  }

  const zones = [...root.querySelectorAll<HTMLElement>('[data-task]')]
  const gate = listenForPresses(zones, {
    ...{ press, taught: () => settings.taught },
    isOpen: () => more?.open ?? false,
  })
  for (const button of root.querySelectorAll<HTMLButtonElement>('.loom-bar button')) {
    button.addEventListener('click', (event) => {
      event.preventDefault()
      if (!gate.letsThrough(event)) return
      const kind = button.value as StepKind
      const { place } = keeper.standing()
      if (kind === 'unwoven' && place === 0) return
      step(kind, kind === 'unwoven' ? place - 1 : place)
    })
  }
  listenToForms(root, {
    ...{ picks: loom.weaving.turning.picks, place: () => keeper.standing().place },
    step(kind, place, note) {
      step(kind, place, note)
      if (more) more.open = false
    },
  })
  find('save-steps')?.addEventListener('click', () => saveSteps(facts.piece.uid, keeper.device, keeper.pending()))
  const steps = find<HTMLFormElement>('steps-file')
  if (steps && !isFile) listenToBringing(steps, path, facts.piece.uid)
  const form = find<HTMLFormElement>('settings')
  if (form) {
    startSettings(form, {
      ...{ gate, speech, settings: () => settings },
      change: (next: Settings) => {
        settings = next
        drawer.write(settingsName, JSON.stringify(next))
        show()
      },
    })
  }
  keeper.onMoved(show)
  addEventListener('resize', show)
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => darken(root))
  darken(root)
  show()
  void document.fonts.ready.then(show)
  if (isFile) return
  sendNow = startSending(path, keeper, (now) => {
    told = now
    const before = keeper.standing().place
    elsewhere = now.elsewhere
    follow()
    if (keeper.standing().place === before) showSituation()
  })
  setInterval(follow, 5_000)
  void standAlone(worker, path, (now) => {
    alone = now
    showSituation()
  })
  sendNow()
}

const SAID: Partial<Record<StepKind, string>> = {
  slip: 'The slip is kept with this pick. “Wrong?” helps to put it right.',
  pause: 'A pause. The next step ends it.',
  unwoven: 'One pick taken out.',
}

/** High contrast is black on white, or white on black where the page is dark. */
function darken(root: HTMLElement): void {
  const scheme = getComputedStyle(document.documentElement).getPropertyValue('--paper').trim()
  root.classList.toggle('loom-dark', /^#[0-4]/.test(scheme))
}
