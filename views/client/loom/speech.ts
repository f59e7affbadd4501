import type { Loom } from '../../../shared/loom/view.ts'
import { type Remembered, rememberedOf, sayRemembered } from '../../../shared/loom/remembered.ts'
import { rowAt } from '../../../shared/loom/weaving.ts'
import { runsOf, toReader } from '../../../shared/loom/told-pick.ts'
import type { Settings } from './settings.ts'

/** Voices that speak without the network of somebody else. */
const voices = (): SpeechSynthesisVoice[] =>
  'speechSynthesis' in window ? speechSynthesis.getVoices().filter(({ localService }) => localService) : []

export interface Speech {
  /** Fills the list of voices, and again when the device has found more. */
  offer(list: HTMLSelectElement, then: () => void): void
  /** Whether the chosen voice speaks a language for which the maker gives the words. */
  needsWords(settings: Settings): boolean
  say(place: number, settings: Settings): void
}

export function openSpeech(loom: Loom): Speech {
  let remembered: Remembered | undefined
  const voiceOf = ({ voice }: Settings) =>
    voices().find(({ voiceURI }) => voiceURI === voice) ??
    voices().find(({ lang }) => lang.startsWith('en')) ??
    voices()[0]
  const needsWords = (settings: Settings) => {
    const voice = voiceOf(settings)
    return voice !== undefined && !voice.lang.startsWith('en')
  }
  return {
    needsWords,
    offer(list, then) {
      if (!('speechSynthesis' in window)) return
      const fill = () => {
        const chosen = list.value
        list.replaceChildren(
          ...voices().map(
            ({ voiceURI, name, lang }) => new Option(`${name}, ${lang}`, voiceURI, false, voiceURI === chosen),
          ),
        )
        then()
      }
      fill()
      speechSynthesis.addEventListener('voiceschanged', fill)
      addEventListener('pagehide', () => speechSynthesis.cancel())
    },
    say(place, settings) {
      const voice = voiceOf(settings)
      if (!voice) return
      const row = toReader(rowAt(loom.weaving, place), loom.facts.telling)
      const text = needsWords(settings)
        ? sayInWords(row, settings.words)
        : sayRemembered((remembered ??= rememberedOf(loom)), loom, place)
      const said = new SpeechSynthesisUtterance(text)
      said.voice = voice
      said.lang = voice.lang
      said.rate = settings.pace
      speechSynthesis.cancel()
      speechSynthesis.speak(said)
    },
  }
}

/** Figures are said in the language of the voice; the words are the maker's own. */
function sayInWords(row: Int8Array, words: Settings['words']): string {
  const wordOf = (turn: string) =>
    `${turn.startsWith('2') ? `${words.half} ` : ''}${turn.endsWith('F') ? words.forward : turn.endsWith('B') ? words.back : words.idle}`
  return runsOf(row)
    .map(({ count, turn }) => `${count} ${wordOf(turn)}`)
    .join(', ')
}
