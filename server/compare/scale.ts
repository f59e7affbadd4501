import { toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { convertCount, COUNT_SYSTEMS, countOf } from '../../shared/yarn/count.ts'
import { predictedTabletsPerCm, texForWidth } from '../../shared/yarn/scale.ts'
import type { PieceYarn } from '../piece/yarn-form.ts'
import { evidenceKey, knownOf, type EvidenceOf } from './evidence.ts'
import { toComparison, type SubjectPaths } from './row.ts'

/** What follows from the scale for the next warp. */
export interface ScaleView {
  /** What is missing, and where it is added; then there is nothing else. */
  readonly missing: readonly { readonly text: string; readonly path: string }[]
  readonly summary: string
  readonly yarns: readonly ScaledYarn[]
}

export interface ScaledYarn {
  readonly role: string
  readonly yarn: string
  /** `Nm 20/2, 100 tex in all` */
  readonly used: string
  /** `42 tex in all, Nm 47.3/2` */
  readonly wanted: string
  /** `95 %: 40 to 45 tex`; empty without an interval. */
  readonly between: string
  /** `16.2 tablets per cm, now 10.5` */
  readonly predicted: string
}

/**
 * The warp that would reach the original's width. Width is taken per tablet, so that a replica with fewer tablets is not
 * told to use a finer thread than it needs.
 */
export function toScale(
  sides: { original: EvidenceOf; replica: EvidenceOf },
  yarns: readonly PieceYarn[],
  paths: SubjectPaths,
): ScaleView {
  const [original, replica] = [sides.original, sides.replica].map((side) => ({
    width: knownOf(side.get(evidenceKey('width')))?.value,
    tablets: knownOf(side.get(evidenceKey('tablets')))?.value,
  })) as [Band, Band]
  const warps = yarns.filter((yarn) => /warp/i.test(yarn.role) && yarn.count !== undefined)
  const add = (isMissing: boolean, text: string, side: 'original' | 'replica', path: string) =>
    isMissing ? [{ text, path: paths.mayEdit[side] ? `${paths[side]}${path}` : '' }] : []
  const missing = [
    ...add(
      original.width === undefined,
      'The width of the original has no value.',
      'original',
      '/claims/new?feature=width',
    ),
    ...add(
      replica.width === undefined,
      'The width of the piece has not been measured.',
      'replica',
      '/claims/new?feature=width',
    ),
    ...add(
      original.tablets === undefined,
      'The number of tablets of the original has no value.',
      'original',
      '/claims/new?feature=tablets',
    ),
    ...add(replica.tablets === undefined, 'How many tablets the piece has is not known here.', 'replica', '/edit'),
    ...add(warps.length === 0, 'The piece has no warp yarn with a count.', 'replica', '/edit'),
  ]
  if (missing.length > 0 || !isWhole(original) || !isWhole(replica)) return { missing, summary: '', yarns: [] }

  const perTablet = { original: original.width / original.tablets, replica: replica.width / replica.tablets }
  const widths = toComparison(sides.original.get(evidenceKey('width')), sides.replica.get(evidenceKey('width')))
  const tablets = original.tablets / replica.tablets
  // The tablets are counted; what is uncertain of a cord's width is the width of the band.
  const interval = widths?.interval?.map((share) => share * tablets).toReversed() as [number, number] | undefined
  return {
    missing: [],
    summary: summarise(perTablet, original.tablets, replica.tablets),
    yarns: warps.map((yarn) => toScaledYarn(yarn, perTablet, interval)),
  }
}

interface Band {
  readonly width: number | undefined
  readonly tablets: number | undefined
}
const isWhole = (band: Band): band is { width: number; tablets: number } =>
  band.width !== undefined && band.tablets !== undefined

type PerTablet = { readonly original: number; readonly replica: number }

function summarise({ original, replica }: PerTablet, originalTablets: number, replicaTablets: number): string {
  const tablets =
    originalTablets === replicaTablets
      ? ''
      : ` (${originalTablets} tablets there, ${replicaTablets} here, so widths are taken per tablet)`
  const share = toDecimals(replica / original, 2)
  return `A cord of the piece is ${toDecimals(replica, 2)} mm wide, one of the original ${toDecimals(original, 2)} mm: ${share} times as wide${tablets}. Linear density goes with the square of the diameter, so the warp that would reach the original's width, in the same fibre and spin, is:`
}

function toScaledYarn(
  yarn: PieceYarn,
  perTablet: PerTablet,
  interval: readonly [number, number] | undefined,
): ScaledYarn {
  const { count = '', countSystem: system, ply } = yarn
  const used = convertCount(Number(count), system, 'tex', ply).resultantTex
  const wanted = texForWidth(used, perTablet.replica, perTablet.original)
  const here = 10 / perTablet.replica
  const [thin, thick] = interval ? interval.map((share) => used / (share * share)) : [undefined, undefined]
  return {
    role: yarn.role,
    yarn: yarn.yarn,
    used: `${withPly(count, system, ply)}${system === 'tex' && ply === 1 ? '' : `, ${toSignificant(used, 3)} tex in all`}`,
    wanted: `${toSignificant(wanted, 3)} tex in all${system === 'tex' ? '' : `, ${withPly(toSignificant(countOf(wanted / ply, system), 3), system, ply)}`}`,
    between:
      thin === undefined || thick === undefined
        ? ''
        : `95 %: ${toSignificant(thin, 3)} to ${toSignificant(thick, 3)} tex, from the uncertainty of the widths`,
    predicted: `${toDecimals(predictedTabletsPerCm(here, used, wanted), 1)} tablets per cm; the piece has ${toDecimals(here, 1)}`,
  }
}

const withPly = (count: string, system: PieceYarn['countSystem'], ply: number) =>
  `${COUNT_SYSTEMS[system].label} ${count}${ply > 1 ? `, ${ply} plies` : ''}`
