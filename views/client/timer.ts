import { durationInWords } from '../../shared/work/time-words.ts'

// Counts on from what the server said, by the time that passed since: the clock of the machine may be set meanwhile.
for (const shown of document.querySelectorAll<HTMLElement>('[data-clock-seconds]')) {
  const seconds = Number(shown.dataset.clockSeconds)
  if (!Number.isFinite(seconds)) continue
  const began = performance.now()
  setInterval(() => {
    shown.textContent = durationInWords(Math.floor((seconds + (performance.now() - began) / 1000) / 60))
  }, 5_000)
}
