import type { Draft } from './draft.ts'

/**
 * How many warp ends a draft needs: its threaded holes.
 * @example 21 tablets of four threads are 84 ends; a tablet with one empty hole counts 3
 * Source: common practice.
 */
export function endsOf(draft: Draft): number {
  return draft.tablets.reduce((ends, tablet) => ends + tablet.holes.filter((hole) => hole !== null).length, 0)
}
