/** Puts a button beside a text that reads it aloud, where this machine has a voice of its own: no text leaves it. */
function listen(text: HTMLElement): void {
  if (!('speechSynthesis' in window)) return
  const speech = window.speechSynthesis
  const button = document.createElement('button')
  button.type = 'button'
  button.className = 'quiet'
  const show = () => (button.textContent = speech.speaking ? 'Stop reading' : 'Read it aloud')
  const voiceOf = () => speech.getVoices().find(({ lang, localService }) => localService && lang.startsWith('en'))
  const offer = () => {
    if (button.isConnected || voiceOf() === undefined) return
    show()
    text.after(button)
  }
  button.addEventListener('click', () => {
    const wasSpeaking = speech.speaking
    speech.cancel()
    const voice = voiceOf()
    if (wasSpeaking || !voice) return void show()
    // A sentence at a time: voices stop by themselves in the middle of a long text.
    for (const sentence of text.textContent.match(/[^.]+\.?/g) ?? []) {
      const said = new SpeechSynthesisUtterance(sentence)
      said.voice = voice
      said.rate = 0.85
      said.addEventListener('start', show)
      said.addEventListener('end', show)
      speech.speak(said)
    }
  })
  offer()
  speech.addEventListener('voiceschanged', offer)
  window.addEventListener('pagehide', () => speech.cancel())
}

for (const text of document.querySelectorAll<HTMLElement>('[data-read-aloud]')) listen(text)
