import { toSignificant } from '../../shared/measure/rounding.ts'
import { diameterEstimate, PACKING_RANGES, packingOfFibres } from '../../shared/yarn/diameter-range.ts'
import { findDensity, fibreKey, type FibreDensity } from '../../shared/yarn/density.ts'
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
  { lots, densities }: { readonly lots: readonly ShelfLot[]; readonly densities: readonly FibreDensity[] },
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
      text: yarn.density ? sayDensity(yarn) : '',
    },
    { label: 'Diameter, worked out', text: sayDiameter(yarn) },
    { label: 'Supplier, seen by you alone', text: yarn.supplier },
  ]
  const [only] = yarn.parts
  const fibre = only && yarn.parts.length === 1 ? findDensity(densities, only.fibre)?.fibre : undefined
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

const sayDensity = ({ density, parts }: Yarn): string =>
  parts.length === 1 ? density!.from : `${toSignificant(density!.gPerCm3, 3)} g/cm³: ${density!.from}`

/** Of a round thread; how it was spun is not said, so the packing is all that its fibres may have. */
function sayDiameter({ reading, density, parts }: Yarn): string {
  if (!reading || !density) return ''
  const { kinds, packing } = packingOfFibres(parts.map(({ fibre }) => fibreKey(fibre)))
  const { lowMm, highMm } = diameterEstimate(reading.resultantTex, density.gPerCm3, packing, 0, density)
  const spun = kinds.map((kind) => PACKING_RANGES[kind].label).join(', or ')
  return `${toSignificant(lowMm, 2)} to ${toSignificant(highMm, 2)} mm, by ${toSignificant(reading.resultantTex, 4)} tex and that density, as ${spun}: ${packing.low} to ${packing.high} of it is fibre, from memory`
}
