import type { PlanField } from '../shared/plan/entry.ts'

/** What is typed in the plans of pieces, beside the counts of their yarns; of the finished ones also what was measured. */
export const plans: Readonly<Record<string, Partial<Readonly<Record<PlanField, string>>>>> = {
  museumFret: {
    ...{ wovenCm: '105', wasteCm: '55', fringeCm: '24', sampleCm: '6', shrinkPercent: '3' },
    ...{ winder: 'arms', winderArms: '4', winderSpacingCm: '25.2', widthMm: '27.5' },
    ...{ woundCm: '205', leftCm: '79.5', measuredCm: '112' },
  },
  drennetGirdle: {
    ...{ wovenBy: 'repeats', repeats: '11', wasteCm: '60', fringeCm: '24', sampleCm: '0', shrinkPercent: '3.5' },
    ...{ winder: 'arms', winderArms: '4', winderSpacingCm: '25.2', picksPerCm: '8.6' },
    ...{ woundCm: '180', leftCm: '86', measuredCm: '82' },
  },
  kelderhowLozenge: {
    ...{ wovenCm: '118', wasteCm: '50', fringeCm: '30', sampleCm: '5', shrinkPercent: '4', winder: 'turn' },
    ...{ winderTurnCm: '90', picksPerCm: '9.9', woundCm: '222', leftCm: '85.5', measuredCm: '124' },
  },
  teachingChevron: {
    ...{ wovenCm: '220', picksPerCm: '6', wasteCm: '70', fringeCm: '30', sampleCm: '10', shrinkPercent: '4' },
    ...{ winder: 'arms', winderArms: '4', winderSpacingCm: '25.2', weftStrands: '1', twistLimit: '60' },
  },
  pikeInLinen: {
    wovenBy: 'repeats',
    repeats: '4',
    picksPerCm: '8',
    wasteCm: '60',
    sampleCm: '10',
    fibre: 'linen',
    spun: 'filament',
  },
}
