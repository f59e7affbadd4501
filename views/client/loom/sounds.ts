/** A short tick, made by the device itself. */
export function newTick(): (isWoven: boolean) => void {
  let sounds: AudioContext | undefined
  return (isWoven) => {
    if (!('AudioContext' in window)) return
    sounds ??= new AudioContext()
    void sounds.resume()
    const [tone, loudness] = [sounds.createOscillator(), sounds.createGain()]
    const now = sounds.currentTime
    tone.frequency.value = isWoven ? 880 : 330
    loudness.gain.setValueAtTime(0.25, now)
    loudness.gain.exponentialRampToValueAtTime(0.001, now + 0.06)
    tone.connect(loudness).connect(sounds.destination)
    tone.start(now)
    tone.stop(now + 0.07)
  }
}
