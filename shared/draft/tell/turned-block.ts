import type { Turning } from '../woven.ts'

/** Tablets and the picks, from first to last, in which they would turn the other way. Numbered from 1. */
export interface TurnedBlock {
  readonly tablets: readonly number[]
  readonly from: number
  readonly to: number
}

/**
 * The shortest block of picks whose turning the other way makes each pack neutral: one whose own net is half the pack's.
 * @param packs lists of tablets (from 1) that turn alike, each with a net that is not zero
 * @returns first, where there is one, the shortest block that does it for all packs at once; and, where it is shorter,
 *   a block of its own for each pack; nothing when no block does it for some pack: its net is odd, or a half turn steps over
 * @example one tablet F F F F: [[{ tablets: [1], from: 3, to: 4 }]]; of blocks of one length the last, for less is unwoven
 * Source: our own. Turning a block of net b the other way takes 2b off the net.
 */
export function shortestBlocks(turning: Turning, packs: readonly (readonly number[])[]): TurnedBlock[][] {
  const sums = packs.map(([first]) => prefixSums(turning, first! - 1))
  if (packs.length === 0 || sums.some((sum) => sum.at(-1)! % 2 !== 0)) return []
  const together = shortestFor(sums)
  const each = sums.map((sum) => shortestFor([sum]))
  const found: TurnedBlock[][] = []
  if (together) found.push([{ tablets: packs.flat().sort((a, b) => a - b), ...together }])
  if (each.every((block) => block !== undefined)) {
    const longest = Math.max(...each.map(({ from, to }) => to - from + 1))
    const isShorter = !together || each.some(({ from, to }) => to - from < together.to - together.from)
    if (packs.length > 1 && isShorter && longest < turning.picks) found.push(foldBlocks(packs, each))
    else if (!together) found.push(foldBlocks(packs, each))
  }
  return found
}

/** How many quarter turns a tablet stands forward before each pick and at the end. */
function prefixSums({ tablets, picks, turns }: Turning, tablet: number): Int32Array {
  const sums = new Int32Array(picks + 1)
  for (let pick = 0; pick < picks; pick++) sums[pick + 1] = sums[pick]! + turns[pick * tablets + tablet]!
  return sums
}

/** The shortest block in which every sum goes half its whole way; of equally short ones the last. */
function shortestFor(sums: readonly Int32Array[]): { from: number; to: number } | undefined {
  const latest = new Map<string, number>()
  let best: { from: number; to: number } | undefined
  for (let end = 0; end < sums[0]!.length; end++) {
    const began = latest.get(sums.map((sum) => sum[end]! - sum.at(-1)! / 2).join())
    if (began !== undefined && (best === undefined || end - began <= best.to - best.from + 1)) {
      best = { from: began + 1, to: end }
    }
    latest.set(sums.map((sum) => sum[end]!).join(), end)
  }
  return best
}

/** Packs with the same block are one entry. */
function foldBlocks(
  packs: readonly (readonly number[])[],
  blocks: readonly { readonly from: number; readonly to: number }[],
): TurnedBlock[] {
  const folded = new Map<string, { tablets: number[]; from: number; to: number }>()
  blocks.forEach(({ from, to }, at) => {
    const entry = folded.get(`${from} ${to}`)
    if (entry) entry.tablets.push(...packs[at]!)
    else folded.set(`${from} ${to}`, { tablets: [...packs[at]!], from, to })
  })
  return [...folded.values()].map((block) => ({ ...block, tablets: block.tablets.sort((a, b) => a - b) }))
}
