import { QUOTE_STAGES } from '../../shared/price/quote-entry.ts'
import { quoteStageLabel } from '../../shared/price/quote-rows.ts'
import type { FieldSpec } from '../field.ts'
import { WEEKDAYS } from './form.ts'

const DAY_LABELS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const
const decimal = (label: string, hint = ''): FieldSpec => ({ label, inputmode: 'decimal', ...(hint ? { hint } : {}) })

export const FORECAST_SPECS: Readonly<Record<string, FieldSpec>> = {
  repeats: decimal('Repeats of the whole band', 'Left empty, those of the plan, or of the length below.'),
  cm: decimal('Or its length in cm'),
  picksPerCm: decimal('at picks per cm'),
  hoursPerWeek: decimal('Hours a week'),
  daysOff: {
    label: 'Days off',
    hint: 'One a line: a day, or a first and a last one, such as 2026-12-20 to 2027-01-03.',
    rows: 3,
    mono: true,
  },
  ...Object.fromEntries(WEEKDAYS.map((day, at) => [day, { label: DAY_LABELS[at] ?? day, control: 'tick' as const }])),
  ...Object.fromEntries(QUOTE_STAGES.map((stage) => [`expect-${stage}`, decimal(quoteStageLabel(stage))])),
}
