import { type Draft, HOLES, type Tablet } from '../../../shared/draft/draft.ts'
import { turningOf } from '../../../shared/draft/turning.ts'
import { weave } from '../../../shared/draft/weave.ts'
import { makeTablet } from '../arbitrary-draft.ts'

export const COLOURS = {
  m: { name: 'madder', hex: '#9c3b2e' },
  w: { name: 'undyed', hex: '#e9dfc8' },
  b2: { name: 'woad', hex: '#2f4a6b' },
}

/** Four tablets, eight picks: steady turning, a reversal, an idle, a half turn and an empty hole. */
export const FOUR_BY_EIGHT: Draft = {
  title: 'Four by eight',
  colours: COLOURS,
  weft: 'm',
  tablets: [
    makeTablet({ holes: ['m', 'm', 'm', 'm'], part: 'border' }),
    makeTablet({ threading: 'Z', holes: ['m', 'm', 'w', 'w'] }),
    makeTablet({ holes: ['w', null, 'b2', 'm'], start: 'B' }),
    makeTablet({ threading: 'Z', holes: ['m', 'm', 'm', 'm'], part: 'border' }),
  ],
  picks: ['4F', '4F', '1F 1F 1I 1F', '4F', '1F 1B 1(2F) 1F', '1F 1B 1F 1F', '4F', '4F'],
}

/** A lozenge in two colours, two turns forward and two back, changing places inside the figure. */
export function lozenges(tablets: number, picks: number): Draft {
  return {
    title: 'Lozenges',
    colours: COLOURS,
    weft: 'm',
    tablets: Array.from({ length: tablets }, (_, at): Tablet =>
      makeTablet({ threading: at % 2 ? 'Z' : 'S', holes: ['m', 'm', 'w', 'w'] }),
    ),
    picks: Array.from({ length: picks }, (_, pick) => {
      const step = pick >> 1
      const turns = Array.from({ length: tablets }, (_, at) => {
        const inside = Math.abs((at % 24) - 11.5) + Math.abs((step % 24) - 12) < 9
        return (step % 2 === 0) === inside ? '1B' : '1F'
      })
      return turns.join(' ')
    }),
  }
}

/** Every tablet forward at every pick, threads stepping from tablet to tablet: diagonals that meet in the middle. */
export function chevrons(tablets: number, picks: number): Draft {
  return {
    title: 'Chevrons',
    colours: COLOURS,
    weft: 'b2',
    tablets: Array.from({ length: tablets }, (_, at): Tablet => {
      const isLeft = at < tablets / 2
      const start = HOLES[(isLeft ? at : tablets - 1 - at) % 4]!
      return makeTablet({ threading: isLeft ? 'S' : 'Z', holes: ['w', 'w', 'b2', 'b2'], start })
    }),
    picks: Array.from({ length: picks }, () => `${tablets}F`),
  }
}

export const woven = (draft: Draft) => weave(draft, turningOf(draft))
