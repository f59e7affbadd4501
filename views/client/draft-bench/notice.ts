/** A question above the bench; it goes when a choice is made that does not return false. */
export function ask(
  notices: HTMLElement,
  text: string,
  choices: readonly (readonly [string, () => boolean | void])[],
  quoted?: string,
): void {
  const box = document.createElement('div')
  box.className = 'notice bench-copy'
  box.setAttribute('role', 'status')
  const words = document.createElement('span')
  words.textContent = text
  box.append(words)
  if (quoted !== undefined) {
    const lines = document.createElement('pre')
    lines.className = 'bench-quoted'
    lines.textContent = quoted
    box.append(lines)
  }
  for (const [label, choose] of choices) {
    const button = document.createElement('button')
    button.type = 'button'
    button.className = 'quiet'
    button.textContent = label
    button.addEventListener('click', () => {
      if (choose() !== false) box.remove()
    })
    box.append(button)
  }
  notices.append(box)
}

/** @param instant ISO */
export const timeOf = (instant: string): string =>
  new Date(instant).toLocaleString('en-GB', { hour: '2-digit', minute: '2-digit', day: 'numeric', month: 'short' })
