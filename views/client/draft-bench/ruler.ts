import type { Sight } from './view.ts'

/** Numbers of picks above the band; each repeat counts anew. */
export class Ruler {
  private readonly line: HTMLElement
  private key = ''

  constructor(stack: HTMLElement) {
    this.line = document.createElement('div')
    this.line.className = 'bench-ruler'
    this.line.setAttribute('aria-hidden', 'true')
    stack.append(this.line)
  }

  draw(sight: Sight, repeat: number): void {
    const pickPx = sight.pickDev / sight.dpr
    const key = [sight.from, sight.to, pickPx, sight.xOf(0), repeat].join()
    if (key === this.key) return
    this.key = key
    const apart = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000].find((step) => step * pickPx >= 28) ?? 2000
    const marks: HTMLElement[] = []
    for (let pick = sight.from; pick < sight.to; pick++) {
      const number = (pick % repeat) + 1
      if (number % apart !== 0 && !(number === 1 && repeat >= apart)) continue
      const mark = document.createElement('span')
      mark.textContent = String(number)
      mark.className = number === 1 && pick > 0 ? 'bench-seam' : ''
      mark.style.left = `${(sight.xOf(pick) + sight.xOf(pick + 1)) / 2 / sight.dpr}px`
      marks.push(mark)
    }
    this.line.replaceChildren(...marks)
  }
}
