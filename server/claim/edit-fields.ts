import { BASES, BLANKS, STATES } from '../../shared/measure/claim-word.ts'
import { isQuantity, type Feature } from '../../shared/measure/feature.ts'
import { UNITS } from '../../shared/measure/unit.ts'
import type { FieldSpec } from '../field.ts'
import { sourceName } from './claim-view.ts'
import type { ClaimField } from './form.ts'

export interface SourceChoice {
  readonly id: number
  readonly title: string
  readonly people: string
  readonly year: string
}

const READINGS_HINTS = {
  length: 'A space or a new line between them: 13.5 13 13,2.',
  perCm: 'One a line: 72 in 9 is seventy-two counted over nine centimetres; 8 alone is eight per unit.',
  count: 'A space or a new line between them: 21 21 22.',
  angle: 'A space or a new line between them: 25 30 28.',
} as const

const RESOLUTION_HINTS = {
  length: 'In the unit above: 1 for a ruler read to the millimetre, 0.5 to the half. Empty if not known.',
  perCm: '1 for a ruler in millimetres; for counts over a length only. Empty if not known.',
  count: 'Empty for plain counts.',
  angle: 'In degrees: 5 if read to the nearest five. Empty if not known.',
} as const

/** What stands beside each input of a claim about this feature. */
export function fieldSpecs(
  feature: Feature,
  sources: readonly SourceChoice[],
  isCorrection: boolean,
): Record<ClaimField, FieldSpec> {
  const { kind } = feature
  const choose = ['', 'Please choose'] as const
  return {
    kind: { label: 'What you state' },
    unit: { label: 'Unit', options: feature.units.map((unit) => [unit, UNITS[unit].symbol] as const) },
    value: { label: 'Value', inputmode: 'decimal', hint: 'As printed: 13.0 stays 13.0.' },
    u: {
      label: 'Standard uncertainty u',
      inputmode: 'decimal',
      hint: kind === 'count' ? 'Empty for a plain count.' : 'If stated; a ± for 95 % is about twice it.',
    },
    n: { label: 'n, readings behind it', inputmode: 'numeric', hint: 'If stated.' },
    low: { label: 'At least', inputmode: 'decimal' },
    high: { label: 'At most', inputmode: 'decimal' },
    readings: { label: 'Readings', rows: 5, mono: true, hint: isQuantity(kind) ? READINGS_HINTS[kind] : '' },
    resolution: {
      label: kind === 'perCm' ? 'Smallest step of the ruler, in mm' : 'Smallest step you could tell apart',
      inputmode: 'decimal',
      hint: isQuantity(kind) ? RESOLUTION_HINTS[kind] : '',
    },
    words: { label: 'Description', rows: 3, hint: feature.hint },
    blank: {
      label: 'Why there is none',
      options: [choose, ...BLANKS.map(({ key, label, hint }) => [key, `${label}: ${hint}`] as const)],
    },
    part: {
      label: feature.perYarn ? 'Which yarn' : 'Which yarn or part, if only one',
      hint: 'Such as: pattern warp, madder weft.',
      required: feature.perYarn,
    },
    state: { label: 'State it was in', options: STATES.map(({ key, label }) => [key, label] as const) },
    basis: { label: 'How it is known', options: BASES.map(({ key, label }) => [key, label] as const) },
    claimedBy: { label: 'Seen, measured or inferred by', hint: 'If the source does not say.' },
    source: {
      label: 'Source',
      options: [['', 'none'] as const, ...sources.map((source) => [String(source.id), citation(source)] as const)],
    },
    newSource: {
      label: 'Or a new source, by its title',
      hint: 'It is added to your sources; complete it there later.',
    },
    locator: { label: 'Where in it', hint: 'Page, figure, plate, table.' },
    claimedOn: { label: 'Day it was found', type: 'date', hint: 'If known.' },
    reason: {
      label: isCorrection ? 'Why it is corrected' : 'How it was found, or why it is so',
      rows: 3,
      required: isCorrection,
    },
    working: {
      label: 'Make this the working value',
      control: 'tick',
      hint: 'The one you go by. The first value of a feature is it by itself.',
    },
  }
}

const citation = (source: SourceChoice) =>
  source.people === '' ? sourceName(source) : `${sourceName(source)}: ${source.title}`.slice(0, 90)
