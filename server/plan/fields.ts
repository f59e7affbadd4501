import { PLAN_CHOICES, type PlanEntered, type PlanField, yarnFields, yarnParts } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import { USUAL_LIMIT_PER_M } from '../../shared/plan/work-out-twist.ts'
import { PACKING_RANGES } from '../../shared/yarn/diameter-range.ts'
import { formFields, type FieldSpec, type FieldView } from '../field.ts'

const decimal = (label: string, hint = ''): FieldSpec => ({ label, inputmode: 'decimal', ...(hint ? { hint } : {}) })
const whole = (label: string, hint = ''): FieldSpec => ({ label, inputmode: 'numeric', ...(hint ? { hint } : {}) })
const chosen = <C extends keyof typeof PLAN_CHOICES>(
  name: C,
  label: string,
  words: Readonly<Record<(typeof PLAN_CHOICES)[C][number], string>>,
  hint = '',
): FieldSpec => ({
  ...{ label, ...(hint ? { hint } : {}) },
  options: PLAN_CHOICES[name].map((key) => [key, words[key as keyof typeof words]] as const),
})

const SPECS: Readonly<Record<PlanField, FieldSpec>> = {
  wovenBy: chosen('wovenBy', 'Planned by', { length: 'its length', repeats: 'repeats of the draft' }),
  wovenCm: decimal('Woven length in cm', 'Finished, without fringe.'),
  repeats: decimal('Repeats'),
  picksPerCm: decimal('Picks per cm', 'Off tension. Left empty, what is measured on the piece is taken.'),
  widthMm: decimal('Width in mm', 'For the weft. Left empty, the measured width, else the predicted one.'),
  takeUpBy: chosen('takeUpBy', 'Take-up', {
    ...{ geometry: 'worked out', settled: 'worked out, by what settled pieces used', typed: 'typed below' },
  }),
  takeUpPercent: decimal('Take-up in percent'),
  takeUpOf: chosen('takeUpOf', 'of', { woven: 'the woven length', warp: 'the warp' }),
  wasteCm: decimal('Loom waste in cm', 'Both ends together.'),
  sampleCm: decimal('Sample in cm', 'Woven to try the beat.'),
  fringeCm: decimal('Fringe in cm', 'Both ends together.'),
  shrinkPercent: decimal('Shrinkage in finishing, percent', 'Of the length before it.'),
  weftStrands: whole('Strands of weft together'),
  weftPasses: chosen('weftPasses', 'Weft across a pick', { '1': 'once, to and fro', '2': 'twice' }),
  weftAllowance: decimal('Weft allowance, percent', 'For what is drawn in, and for the ends.'),
  winder: chosen('winder', 'Winder', { none: 'none named', turn: 'by what a turn takes', arms: 'by its arms' }),
  winderTurnCm: decimal('One turn takes, cm'),
  winderArms: whole('Arms'),
  winderSpacingCm: decimal('From arm to arm, cm'),
  // Its options come with the densities that the maker goes by.
  fibre: { label: 'Fibre, where the yarn does not say' },
  spun: { label: 'Spun as', options: Object.entries(PACKING_RANGES).map(([key, { label }]) => [key, label] as const) },
  twistLimit: decimal(
    'Most turns per metre',
    `In the bare warp. Left empty, what your own pieces taught, else ${USUAL_LIMIT_PER_M}.`,
  ),
  blockPicks: whole('Reverse only after every so many picks', 'Left empty, after whole repeats.'),
  borders: chosen('borders', 'What is done about twist', {
    ...{ asDrafted: 'nothing, woven as drafted', reverse: 'the borders are reversed' },
    ...{ untwist: 'it is let out when the warp is advanced', swivels: 'swivels at the far end' },
    flip: 'the border tablets are turned over',
  }),
  reversals: {
    label: 'Borders turn the other way after picks',
    hint: 'Numbers of picks, such as 96, 192.',
    inputmode: 'text',
  },
  woundCm: decimal('Warp as wound, cm'),
  leftCm: decimal('Left at both ends, cm', 'Fringe and what was cut off.'),
  measuredCm: decimal('Woven, cm', 'Off the loom, before finishing, the sample with it.'),
  stoppedPick: whole('Stopped by the twist after pick', 'Left empty where it did not stop you.'),
}

export interface YarnFieldsView {
  readonly name: string
  readonly hex: string
  readonly chosen: FieldView
  readonly count: FieldView
}

export interface PlanFieldsView {
  readonly fields: Record<PlanField, FieldView>
  readonly yarns: readonly YarnFieldsView[]
}

/** The form of a plan: its own fields, and two for every colour of the warp and for the weft. */
export function planFields(
  { draft, yarns, densities }: Pick<PlanFacts, 'draft' | 'yarns' | 'densities'>,
  entered: PlanEntered,
  problems: Readonly<Record<string, string>>,
): PlanFieldsView {
  const options = yarns.map(({ value, label }) => [value, label] as const)
  // A fibre whose own density was removed stays a choice until another one is made.
  const fibres = densities.map(({ fibre, label }) => [fibre, label] as const)
  const gone =
    entered.fibre === '' || densities.some(({ fibre }) => fibre === entered.fibre)
      ? []
      : [[entered.fibre, `${entered.fibre}, in no table any more`] as const]
  const specs = { ...SPECS, fibre: { ...SPECS.fibre, options: [...fibres, ...gone] } }
  return {
    fields: formFields(specs, entered, problems),
    yarns: yarnParts(draft.tablets).map((part) => {
      const names = yarnFields(part)
      const colour = draft.colours[part.part === 'weft' ? draft.weft : part.key]
      const name = part.part === 'weft' ? 'Weft' : `Warp, ${colour?.name || part.key}`
      const kept = entered[names.chosen] ?? ''
      // A lot that is gone or hidden stays a choice, so that saving the rest loses nothing in silence.
      const stray =
        kept === '' || yarns.some(({ value }) => value === kept) ? [] : [[kept, 'not to be had any more'] as const]
      const ownSpecs = {
        [names.chosen]: { label: name, options: [['', 'by its count'] as const, ...options, ...stray] },
        [names.count]: { label: 'Count', plain: true },
      }
      const views = formFields(ownSpecs, entered, problems)
      return { name, hex: colour?.hex ?? '', chosen: views[names.chosen]!, count: views[names.count]! }
    }),
  }
}
