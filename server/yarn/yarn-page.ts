import { toSignificant } from '../../shared/measure/rounding.ts'
import { readYarnBuild, toBuildWords } from '../../shared/yarn/build.ts'
import { sayBlend } from '../../shared/yarn/lot-blend.ts'
import { CAUTIONS } from '../caution.ts'
import { renderNote } from '../markdown.ts'
import type { Html, PageHead } from '../pages.ts'
import type { SharingView } from '../sharing/view.ts'
import type { ShelfLot, Yarn } from './queries.ts'
import { toLotLine, type LotLine } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/show': YarnShowPage
  }
}

interface YarnShowPage extends PageHead {
  readonly id: number
  readonly lead: string
  readonly facts: readonly { readonly label: string; readonly text: string }[]
  readonly reckonPath: string
  readonly notes: Html | ''
  readonly lots: readonly LotLine[]
  readonly caution: string
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
}

export function yarnShowPage(
  yarn: Yarn,
  lots: readonly ShelfLot[],
  may: Pick<YarnShowPage, 'mayEdit' | 'mayOwn' | 'sharing'>,
  notice: string,
): YarnShowPage {
  const build = yarn.build === '' ? undefined : readYarnBuild(yarn.build)
  const facts = [
    { label: 'Fibres', text: sayBlend(yarn.parts) },
    { label: 'Count, as written', text: yarn.count },
    { label: 'What it says', text: yarn.reading?.sentence ?? '' },
    { label: 'Spin and ply', text: build?.ok ? `${yarn.build}: ${toBuildWords(build.build)}` : '' },
    { label: 'Wraps, measured', text: yarn.wrapsPerCm ? `${yarn.wrapsPerCm} in a cm` : '' },
    { label: 'Diameter, measured', text: yarn.diameterMm ? `${yarn.diameterMm} mm` : '' },
    {
      label: 'Density of its fibre',
      text: yarn.densityGPerCm3 ? `${toSignificant(yarn.densityGPerCm3, 3)} g/cm³, by the table of fibres` : '',
    },
    { label: 'Supplier, seen by you alone', text: yarn.supplier },
  ]
  const fibre = yarn.parts.length === 1 ? yarn.parts[0]!.fibre : ''
  const asked = new URLSearchParams({ count: yarn.count, ...(fibre ? { fibre } : {}) })
  return {
    ...{ title: yarn.name, section: 'yarns', notice, id: yarn.id, ...may },
    lead: [yarn.count, sayBlend(yarn.parts)].filter(Boolean).join(', '),
    facts: facts.filter(({ text }) => text !== ''),
    reckonPath: yarn.count === '' ? '' : `/yarns/reckon?${asked.toString()}`,
    notes: yarn.notes && renderNote(yarn.notes),
    lots: lots.map(toLotLine),
    caution: CAUTIONS.labelling.text,
  }
}
