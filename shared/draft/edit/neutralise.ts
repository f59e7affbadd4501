import { sayCount, sayListed, startSentence } from '../number-words.ts'
import type { Bench, Block } from './bench.ts'
import type { Edit, Refused } from './step.ts'
import { replacePicks, weaveBack } from './turn-edit.ts'

/** One way to undo the twist of a block: what it would do, in whole sentences, and the edit itself. */
export interface Untwist {
  readonly key: 'turnOver' | 'weaveBack' | 'against'
  readonly name: string
  readonly text: string
  readonly edit: Edit | Refused
}

/**
 * The net quarter turns of each tablet of a block, forward positive, in the block's order.
 * @example netOf(bench, { tablets: [0], from: 0, to: 3 }) // [4] where tablet 1 turns F F F F
 */
export function netOf({ turning }: Bench, { tablets, from, to }: Block): number[] {
  return tablets.map((tablet) => {
    let net = 0
    for (let pick = from; pick <= to; pick++) net += turning.turns[pick * turning.tablets + tablet]!
    return net
  })
}

/**
 * Ways to leave no twist in the tablets of a block, none of them done yet. Without adding picks: the end of the block
 * turned the other way, each tablet from its own pick on. With further picks straight after the block: woven back (all
 * tablets), or each tablet turned against its twist for as long as it takes, idle after that.
 * @returns none when the block is neutral already
 * @example untwist(bench, block).map(({ name }) => name) // ['Turn its end the other way', 'Weave it back', …]
 * Source: our own; that twist is undone by turning as often the other way is common practice, no source.
 */
export function untwist(bench: Bench, block: Block): Untwist[] {
  const net = netOf(bench, block)
  const twisted = block.tablets.filter((_, at) => net[at] !== 0)
  if (twisted.length === 0) return []
  return [turnEndOver(bench, block, net), backAgain(bench, block), against(bench, block, net)]
}

function turnEndOver(bench: Bench, block: Block, net: readonly number[]): Untwist {
  const { tablets, turns } = bench.turning
  const cells: number[] = []
  const left: number[] = []
  let earliest = block.to
  block.tablets.forEach((tablet, at) => {
    if (net[at] === 0) return
    const from = findEnd(bench, tablet, block, net[at]!)
    if (from === undefined) return void left.push(tablet + 1)
    earliest = Math.min(earliest, from)
    for (let pick = from; pick <= block.to; pick++) {
      if (turns[pick * tablets + tablet] !== 0) cells.push(pick * tablets + tablet)
    }
  })
  const done = net.filter((one) => one !== 0).length - left.length
  const stays =
    left.length === 0
      ? ''
      : ` ${startSentence(sayListed('tablet', left))} cannot be evened out so: an odd number of quarter turns is left over.`
  const name = 'Turn its end the other way'
  const text = `No pick is added. In ${sayCount(done, 'tablet')} the last turns of the block, from pick ${earliest + 1} on at the earliest, go the other way, so the pattern changes there.${stays}`
  if (cells.length === 0)
    return {
      key: 'turnOver',
      name,
      text: `No pick would be added.${stays}`,
      edit: { why: 'No tablet can be evened out so.' },
    }
  cells.sort((a, b) => a - b)
  const before = Int8Array.from(cells, (cell) => turns[cell]!)
  const step = { kind: 'turns', cells: Int32Array.from(cells), before, after: before.map((turn) => -turn) } as const
  return { key: 'turnOver', name, text, edit: { label: 'end of a block turned the other way', steps: [step] } }
}

/** The last pick from which on the turns of a tablet make up half of its net; turned over, they undo the other half. */
function findEnd({ turning }: Bench, tablet: number, { from, to }: Block, net: number): number | undefined {
  let sum = 0
  for (let pick = to; pick >= from; pick--) {
    sum += turning.turns[pick * turning.tablets + tablet]!
    if (2 * sum === net) return pick
  }
  return undefined
}

function backAgain(bench: Bench, { from, to }: Block): Untwist {
  const many = sayCount(to - from + 1, 'pick')
  const text = `${many} are added after the block, in all tablets: its picks in the opposite order, every turn the other way. The pattern comes back as in a mirror, and no tablet keeps twist from the two together.`
  return { key: 'weaveBack', name: 'Weave it back', text, edit: weaveBack(bench, from, to) }
}

function against(bench: Bench, block: Block, net: readonly number[]): Untwist {
  const { tablets } = bench.turning
  const picks = Math.max(...net.map(Math.abs))
  const rows = new Int8Array(picks * tablets)
  block.tablets.forEach((tablet, at) => {
    const turn = -Math.sign(net[at]!)
    for (let pick = 0; pick < Math.abs(net[at]!); pick++) rows[pick * tablets + tablet] = turn
  })
  const idles = rows.includes(0)
  const edit = replacePicks(bench, block.to + 1, 0, rows, `${sayCount(picks, 'pick')} against the twist`)
  const text =
    `${sayCount(picks, 'pick')} are added after the block. Each of its tablets turns against its twist until it has none` +
    (idles ? ', and idles after that, as all other tablets do from the first: idle tablets float.' : '.')
  return { key: 'against', name: 'Turn against it', text, edit }
}
