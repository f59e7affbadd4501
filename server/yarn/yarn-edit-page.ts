import type { CountReading } from '../../shared/yarn/count-reading.ts'
import { CAUTIONS } from '../caution.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { Yarn } from './queries.ts'
import { readingKey } from './reading.ts'
import { listReadings, type YarnEntered } from './yarn-form.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/edit': YarnEditPage
  }
}

interface YarnEditPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof YarnEntered, FieldView>
  /** Whether the count can be read in several ways, so that somebody has to say which is meant. */
  readonly asksReading: boolean
  readonly caution: string
  readonly problems: readonly { href: string; text: string }[]
}

const specs = (readings: readonly CountReading[]): Record<keyof YarnEntered, FieldSpec> => ({
  name: { label: 'Name', required: true, hint: 'What the mill or the spinner calls it.' },
  blend: { label: 'Fibres, % of mass', hint: 'wool 80, silk 20. One fibre alone needs no share.', plain: true },
  count: { label: 'Count, as it is written', hint: 'Nm 28/2, 16 lea, 34 tex x 2.', plain: true },
  countReading: {
    label: 'Which reading is meant',
    options: [['', 'please choose'], ...readings.map((reading) => [readingKey(reading), reading.sentence] as const)],
  },
  build: { label: 'Spin and ply', hint: 'In the order of making: Z, Z2S or Z2S3Z.', plain: true },
  wrapsPerCm: { label: 'Wraps in a cm, measured', inputmode: 'decimal' },
  diameterMm: { label: 'Diameter in mm, measured', inputmode: 'decimal' },
  supplier: { label: 'Supplier', hint: 'Seen by you alone, whoever else may see the yarn.' },
  notes: { label: 'Notes', rows: 6, hint: 'Markdown: *emphasis*, - lists, > quotations.' },
})

export const BLANK_YARN: YarnEntered = {
  ...{ name: '', blend: '', count: '', countReading: '', build: '', wrapsPerCm: '', diameterMm: '' },
  ...{ supplier: '', notes: '' },
}

export function yarnEditPage(
  yarn: Pick<Yarn, 'id' | 'name'> | undefined,
  entered: YarnEntered,
  { problems = {} }: { readonly problems?: Problems<YarnEntered> } = {},
): YarnEditPage {
  const readings = listReadings(entered.count)
  const fields = formFields(specs(readings), entered, problems)
  return {
    title: yarn ? `Edit yarn: ${yarn.name}` : 'New yarn',
    section: 'yarns',
    action: yarn ? `/yarns/${yarn.id}` : '/yarns',
    back: yarn ? `/yarns/${yarn.id}` : '/yarns',
    asksReading: readings.length > 0,
    caution: CAUTIONS.labelling.text,
    fields,
    problems: problemList(fields),
  }
}
