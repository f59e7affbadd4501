import type { Draft } from '../../shared/draft/draft.ts'

/** A bounded source of chance that is the same in every run. Numerical Recipes' constants, from memory. */
function toChance(seed: number): () => number {
  let state = seed
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 4294967296
}

/** Every pick another one, threaded alike but for S and Z: as far from repetition as a draft may be. */
export function makeBenchDraft(tablets: number, picks: number): Draft {
  const chance = toChance(12345)
  return {
    title: `Bench, ${tablets} tablets`,
    colours: { a: { name: 'madder', hex: '#9c3b2e' }, b: { name: 'undyed', hex: '#e9dfc8' } },
    weft: 'a',
    tablets: Array.from({ length: tablets }, (_, tablet) => ({
      threading: tablet % 2 ? ('Z' as const) : ('S' as const),
      holes: ['a', 'a', 'b', 'b'] as const,
      start: 'A' as const,
      part: 'pattern' as const,
    })),
    picks: Array.from({ length: picks }, () =>
      Array.from({ length: tablets }, () => (chance() < 0.5 ? '1F' : '1B')).join(' '),
    ),
  }
}
