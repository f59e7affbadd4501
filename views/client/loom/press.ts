import { type KeyMap, type KeyTask, newGate, taskOf } from '../../../shared/loom/key-map.ts'

interface Asked {
  readonly taught: () => KeyMap
  readonly press: (task: KeyTask) => void
  readonly isOpen: () => boolean
}

/** One gate for all that makes a step: a held key and a bouncing pedal make one, and so does a finger that taps twice. */
export interface Gate {
  letsThrough(event: Event): boolean
  /** The next key is not pressed but taught. */
  teach(then: (key: string | undefined) => void): void
}

const TYPED_INTO = 'input, select, textarea'
const PRESSED = 'button, a, summary'

/** Zones by click, keys and pedals wherever the focus is, but for a field or another button. */
export function listenForPresses(zones: readonly HTMLElement[], { taught, press, isOpen }: Asked): Gate {
  const gate = newGate()
  let teaching: ((key: string | undefined) => void) | undefined
  for (const zone of zones) {
    zone.addEventListener('click', (event) => {
      event.preventDefault()
      // A tap leaves no focus behind: else the Enter of a pedal would press the zone that was tapped last.
      if (event.detail > 0) zone.blur()
      if (gate(event.timeStamp, false)) press(zone.dataset.task as KeyTask)
    })
  }
  document.addEventListener('keydown', (event) => {
    const { key, repeat, target } = event
    if (teaching) {
      if (repeat || key === 'Tab') return
      event.preventDefault()
      const taught = teaching
      teaching = undefined
      return taught(key === 'Escape' ? undefined : key)
    }
    if (event.ctrlKey || event.altKey || event.metaKey || isOpen()) return
    const element = target instanceof Element ? target : undefined
    if (element?.closest(TYPED_INTO)) return
    const task = taskOf(key, taught())
    if (task === undefined) return
    const button = element?.closest<HTMLElement>(PRESSED)
    const isPressing = button && (key === 'Enter' || key === ' ')
    if (isPressing) {
      if (repeat) event.preventDefault()
      return
    }
    event.preventDefault()
    if (gate(event.timeStamp, repeat)) press(task)
  })
  return {
    letsThrough: (event) => gate(event.timeStamp, false),
    teach: (then) => (teaching = then),
  }
}
