import type { DecisionEntered } from '../server/decision/form.ts'
import type { JudgementEntered } from '../server/fidelity/form.ts'

type Judged = Partial<JudgementEntered> & Pick<JudgementEntered, 'spot' | 'relation'>

/** What the two makers say of how near their pieces come, by piece. The rest nobody has judged, and the page says so. */
export const judgements: Readonly<Record<string, readonly Judged[]>> = {
  museumFret: [
    {
      spot: 'fibre-warp',
      known: 'Wool, long and even, combed (Ossavar, p. 36).',
      used: 'Worsted wool, combed, from a mill.',
      relation: 'near',
      reasonKind: 'time',
      reason: 'nobody spins forty hours for a handling table',
      look: 'a little smoother than the find can have been',
    },
    {
      spot: 'fibre-weft',
      known: 'Not analysed: hidden by the warp throughout.',
      used: 'The same worsted as the warp.',
      relation: 'unknowable',
      reasonKind: 'unknown',
      reason: 'the weft cannot be seen without cutting the band',
    },
    {
      spot: 'spinning-warp',
      known: 'Z2s, 38°, thread 0.28 mm.',
      used: 'Z2s, thread 0.41 mm.',
      relation: 'substituted',
      reasonKind: 'unobtainable',
      reason: 'no two-ply as fine was to be had combed, and children should see the hook without a lens',
      size: 'half as wide again',
      hand: 'thicker and less supple',
      labelWords: 'Woven half as large again, in a yarn that hands can feel.',
    },
    {
      spot: 'dye-warp',
      known: 'Madder and weld, by analysis (Quillory, p. 209).',
      used: 'Madder and weld, both on alum.',
      relation: 'same',
      labelWords: 'Red and yellow are the dyes that were found in the band.',
    },
    {
      spot: 'dye-borders',
      known: 'Not analysed.',
      used: 'Walnut hulls, without a mordant.',
      relation: 'unknowable',
      reasonKind: 'unknown',
      reason: 'nobody has analysed the dark of the border',
      labelWords: 'The dark of the border is a guess.',
    },
    {
      spot: 'density-whole',
      known: '17.3 tablets/cm.',
      used: '11.5 tablets/cm.',
      relation: 'substituted',
      reasonKind: 'wish',
    },
    {
      spot: 'structure-whole',
      known: 'Double face in two colours.',
      used: 'Double face in two colours.',
      relation: 'same',
    },
    {
      spot: 'pattern-whole',
      known: 'The fret, without a fault for eleven repeats.',
      used: 'The fret, without its fault in the last repeats.',
      relation: 'near',
      reasonKind: 'other',
      reason: 'the fault of the find is not woven in',
    },
    {
      spot: 'dimensions-whole',
      known: '18.5 mm wide.',
      used: '28 mm wide.',
      relation: 'substituted',
      reasonKind: 'wish',
    },
  ],
  kelderhowLozenge: [
    {
      spot: 'fibre-warp',
      known: 'Wool of two fleeces.',
      used: 'Fine worsted of one.',
      relation: 'near',
      reasonKind: 'unobtainable',
    },
    {
      spot: 'spinning-warp',
      known: 'S2z.',
      used: 'Z2s.',
      relation: 'substituted',
      reasonKind: 'unobtainable',
      reason: 'the other way round than the original: not to be had',
      look: 'the stitches lie a shade flatter against the twist of the cord',
      labelWords: 'The yarn is spun the other way round than in the find.',
    },
    {
      spot: 'dye-warp',
      known: 'Woad, madder, and a yellow that is not weld.',
      used: 'Woad, madder and weld.',
      relation: 'near',
      reasonKind: 'unknown',
      reason: 'which plant gave the yellow is open',
      labelWords: 'Blue and red as found; the yellow of the find came from another plant than ours.',
    },
    {
      spot: 'density-whole',
      known: '15.2 tablets/cm, 10.5 picks/cm.',
      used: '15.1 tablets/cm, 10.2 picks/cm.',
      relation: 'same',
    },
    { spot: 'structure-whole', known: 'Warp twined.', used: 'Warp twined.', relation: 'same' },
    { spot: 'pattern-whole', known: '14, 14, 6 and 6 picks.', used: '14, 14, 6 and 6 picks.', relation: 'same' },
    { spot: 'dimensions-whole', known: '15.8 mm wide.', used: '15.9 mm wide.', relation: 'same' },
  ],
}

/** What was decided on the way, by piece. */
export const decisions: Readonly<Record<string, readonly DecisionEntered[]>> = {
  museumFret: [
    {
      question: 'At the scale of the find, or larger?',
      decided: 'Half as large again, and said so on the label.',
      evidence: 'The thread of the find is 0.28 mm; the finest combed two-ply to be had comes out near 0.4 mm.',
      considered: 'A single of half the weight: it frays on a table where everybody touches it.',
      onDay: '2025-11-09',
      decidedBy: 'Ineth Vallow',
    },
    {
      question: 'Weave the fault of the last repeats, or not?',
      decided: 'Not.',
      evidence:
        'One pair of tablets is a half turn out for the rest of the find: a slip, by the look of it, that was let stand.',
      considered:
        'Weaving it, as a true likeness of that one band. For a table that teaches the pattern it would teach the slip.',
      onDay: '2025-11-22',
      decidedBy: 'Ineth Vallow',
    },
  ],
  kelderhowLozenge: [
    {
      question: 'Which yellow?',
      decided: 'Weld, though the later analysis says that it is not weld.',
      evidence: 'Quillory, p. 215, on two samples: a flavonoid yellow, and which plant is open.',
      considered:
        'Dyer’s broom and sawwort. Either would be a guess as well, and weld holds best in a case with light.',
      onDay: '2026-01-22',
      decidedBy: 'Ineth Vallow',
    },
  ],
}
