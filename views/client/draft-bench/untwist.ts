import { netOf, untwist } from '../../../shared/draft/edit/neutralise.ts'
import { isRefused } from '../../../shared/draft/edit/step.ts'
import { sayCount, sayNumbers } from '../../../shared/draft/number-words.ts'
import type { Desk } from './desk.ts'

/** The twist of the marked block, and the ways to undo it: each says what it would do before it does it. */
export function listenToTwist(root: HTMLElement, desk: Desk): Readonly<Record<string, () => void>> {
  const net = root.querySelector<HTMLElement>('[data-bench-net]')!
  const ways = root.querySelector<HTMLElement>('[data-bench-ways]')!
  const button = root.querySelector<HTMLElement>('[data-do="untwist"]')!

  const close = () => {
    ways.replaceChildren()
    button.setAttribute('aria-expanded', 'false')
  }
  let due = 0
  desk.listen(({ kind }) => {
    if (kind !== 'mark' && kind !== 'edit') return
    close()
    clearTimeout(due)
    due = setTimeout(() => (net.textContent = sayNet(desk)), 60) as unknown as number
  })
  net.textContent = sayNet(desk)

  return {
    untwist() {
      if (ways.children.length > 0) return close()
      const found = untwist(desk.bench, desk.block)
      if (found.length === 0) return desk.tell('This block leaves no twist.')
      button.setAttribute('aria-expanded', 'true')
      ways.replaceChildren(
        ...found.map(({ name, text, edit }) => {
          const way = document.createElement('div')
          const what = document.createElement('p')
          const title = document.createElement('b')
          title.textContent = name
          what.append(title, `. ${isRefused(edit) && !text.includes(edit.why) ? `${edit.why} ` : ''}${text}`)
          way.append(what)
          if (isRefused(edit)) return way
          const go = document.createElement('button')
          go.type = 'button'
          go.className = 'quiet'
          go.textContent = name
          go.addEventListener('click', () => {
            desk.make(edit)
            desk.tell(`Done: ${edit.label}.`)
            desk.settle()
            button.focus()
          })
          way.append(go)
          return way
        }),
      )
    },
  }
}

function sayNet({ bench, block }: Desk): string {
  const net = netOf(bench, block)
  const byNet = new Map<number, number[]>()
  net.forEach((one, at) => byNet.set(one, [...(byNet.get(one) ?? []), block.tablets[at]! + 1]))
  if (byNet.size === 1 && byNet.has(0)) return 'The block leaves no twist in its tablets.'
  const groups = [...byNet].sort(([a], [b]) => Math.abs(b) - Math.abs(a))
  const said = groups.slice(0, 5).map(([one, tablets]) => {
    const sign = one > 0 ? '+' : one < 0 ? '−' : ''
    return `${sign}${Math.abs(one)} in ${tablets.length === 1 ? 'tablet' : 'tablets'} ${sayNumbers(tablets, 4)}`
  })
  const more = groups.length > 5 ? `; and ${sayCount(groups.length - 5, 'other sum')}` : ''
  return `Quarter turns left over by the block, forward counted as +: ${said.join('; ')}${more}.`
}
