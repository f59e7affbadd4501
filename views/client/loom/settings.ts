import type { KeyMap } from '../../../shared/loom/key-map.ts'
import type { Drawer } from './drawer.ts'

/** How this device shows and says the work. */
export interface Settings {
  readonly size: number
  readonly contrast: boolean
  readonly left: boolean
  readonly tick: boolean
  readonly speak: boolean
  /** Address of a voice of this device; empty for its first English one. */
  readonly voice: string
  readonly pace: number
  /** What a voice of another language says. */
  readonly words: { readonly forward: string; readonly back: string; readonly idle: string; readonly half: string }
  readonly taught: KeyMap
}

const USUAL: Settings = {
  ...{ size: 48, contrast: false, left: false, tick: false, speak: false, voice: '', pace: 0.9 },
  words: { forward: 'forward', back: 'back', idle: 'idle', half: 'half' },
  taught: { next: [], back: [] },
}

export function readSettings(drawer: Drawer, name: string): Settings {
  try {
    const kept = JSON.parse(drawer.read(name) ?? '{}') as Partial<Settings>
    return { ...USUAL, ...kept, words: { ...USUAL.words, ...kept.words }, taught: { ...USUAL.taught, ...kept.taught } }
  } catch {
    return USUAL
  }
}
