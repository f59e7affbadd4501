import type { Draft } from '../../shared/draft/draft.ts'
import { tellBriefly } from '../../shared/draft/tell/brief-tell.ts'
import { findMemoryVoices } from '../../shared/draft/tell/memory-voice.ts'
import { findMisprints } from '../../shared/draft/tell/misprint.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { asRatio, takeTurns, tell } from './measure.ts'

const ROUNDS = 11
const WEAVES = 20

/** What a draft tells, beside weaving it: the spoken form, single misprints, the lines beside the picture. */
export async function benchTell(): Promise<void> {
  const random = makeBenchDraft(60, 200)
  const built = makeOfBlock(makeBenchDraft(60, 50))
  const turning = turningOf(random)
  const spoilt = { ...built, picks: built.picks.with(70, random.picks[0]!.replace(/^1./, '1F')) }
  const [ofBuilt, ofSpoilt] = [turningOf(built), turningOf(spoilt)]
  const stated = {
    neutral: true,
    closes: true,
    threading: true,
    turning: true,
    longestFloat: 9,
    face: 'across',
  } as const
  const wide = makeBenchDraft(400, 2000)
  const ofWide = turningOf(wide)
  const taken = await takeTurns(
    {
      weave: { run: () => repeat(() => weave(random, turning)), times: WEAVES },
      random: { run: () => findMemoryVoices(random, turning) },
      built: { run: () => findMemoryVoices(built, ofBuilt) },
      misprints: { run: () => findMisprints(spoilt, ofSpoilt, stated) },
      float: { run: () => findMisprints(random, turning, { longestFloat: 2 }) },
      brief: { run: () => tellBriefly(random, turning) },
      wide: { run: () => tellBriefly(wide, ofWide) },
    },
    ROUNDS,
  )
  console.log(`What a draft tells: 60 tablets x 200 picks; medians of n = ${ROUNDS} rounds`)
  tell('weave', taken.weave, `mean of ${WEAVES} in each round`)
  const line = (what: string, ms: number, ...more: string[]) =>
    tell(what, ms, asRatio(ms, taken.weave, 'weave'), ...more)
  const words = (draft: Draft) => {
    const { words, plainWords } = findMemoryVoices(draft, turningOf(draft))
    return `${words} words for ${plainWords}`
  }
  line('spoken form, no two picks alike', taken.random, words(random))
  line('spoken form, a block of 50 four ways', taken.built, words(built))
  line('misprints, six things stated', taken.misprints)
  line('misprints, floats alone stated', taken.float)
  line('lines beside the picture', taken.brief)
  line('the same of 400 x 2,000', taken.wide)
}

/** The block, mirrored, from its end, and both: four times as long, with something to be found. */
function makeOfBlock(block: Draft): Draft {
  const mirrored = block.picks.map((pick) => pick.split(' ').reverse().join(' '))
  return { ...block, picks: [...block.picks, ...mirrored, ...block.picks.toReversed(), ...mirrored.toReversed()] }
}

function repeat(work: () => unknown): void {
  for (let time = 0; time < WEAVES; time += 1) work()
}
