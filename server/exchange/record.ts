import { isQuantity } from '../../shared/measure/feature.ts'
import { labelOf, STATES } from '../../shared/measure/claim-word.ts'
import { convertUnit, type Unit } from '../../shared/measure/unit.ts'
import { findAnyFeature } from '../claim/feature-queries.ts'
import { figureLine } from '../claim/figure.ts'
import { listWorkingClaims, type Claim } from '../claim/queries.ts'
import { toQuantity } from '../claim/quantity.ts'
import type { Db } from '../db/open.ts'
import { toPhrase } from '../original/dating.ts'
import { findOriginal } from '../original/queries.ts'
import { licenceOf, NOT_EVALUATED } from '../photo/licence.ts'
import { listPhotos } from '../photo/queries.ts'
import { listSizes } from '../photo/size.ts'
import { findPiece } from '../piece/queries.ts'
import { toReference } from '../source/reference.ts'
import { findSource } from '../source/queries.ts'

/** An original or a piece as a museum takes it over: what its page shows to whoever asks, and no own notes. */
export interface ExchangeRecord {
  readonly noun: 'original' | 'piece'
  readonly id: number
  /** Address of its page, by which it is called elsewhere. */
  readonly uri: string
  readonly name: string
  readonly otherNames: readonly string[]
  readonly holder: string
  readonly inventoryNumber: string
  readonly findPlace: string
  readonly technique: string
  readonly maker: string
  /** Whom the record comes from. */
  readonly recordSource: string
  readonly made: {
    /** In English, for reading; and in EDTF. */
    readonly phrase: string
    readonly edtf: string
    /** `-0459` or `2026-03-14`; empty where an end is open. */
    readonly earliest: string
    readonly latest: string
  }
  readonly measures: readonly Measure[]
  readonly materials: readonly { readonly part: string; readonly text: string }[]
  readonly replicaOf: { readonly uri: string; readonly name: string } | undefined
  readonly photos: readonly ExchangePhoto[]
  /** What the claims rest on, in plain words. */
  readonly sources: readonly { readonly text: string; readonly uri: string }[]
}

/** A measured feature in its base unit, unrounded; one of the ends may be open. */
export interface Measure {
  readonly feature: string
  readonly label: string
  readonly part: string
  readonly unit: Unit
  readonly value: number | undefined
  readonly low: number | undefined
  readonly high: number | undefined
  /** As the page says it, with the state it was in. */
  readonly text: string
}

export interface ExchangePhoto {
  readonly id: number
  readonly uri: string
  readonly caption: string
  readonly credit: string
  readonly licence: string
  /** Address of its largest web size, which is this wide and high. */
  readonly file: string
  readonly width: number
  readonly height: number
}

/** @param base address of the notebook, without a slash at its end */
export function gatherRecord(
  db: Db,
  noun: ExchangeRecord['noun'],
  id: number,
  base: string,
): ExchangeRecord | undefined {
  const own = noun === 'original' ? ofOriginal(db, id) : ofPiece(db, id, base)
  if (!own) return undefined
  const claims = listWorkingClaims(db, noun === 'original' ? { originalId: id } : { pieceId: id })
  return {
    ...own,
    ...{ noun, id, uri: `${base}/${noun}s/${id}`, recordSource: 'Fellmark notebook' },
    measures: claims.flatMap((claim) => toMeasure(db, claim)),
    materials: claims
      .filter((claim) => claim.feature.endsWith('Fibre') && claim.kind === 'text')
      .map((claim) => ({ part: claim.part, text: claim.words ?? '' })),
    photos: listPhotos(db, { noun, id })
      // What nobody has said may be passed on is not passed on.
      .filter(({ licence }) => licence !== '' && licence !== NOT_EVALUATED.key)
      .map(({ id: photo, caption, credit, licence, ...full }) => {
        const uri = `${base}/photos/${photo}`
        const { size, width, height } = listSizes(full).at(-1) ?? { size: 480, ...full }
        return {
          ...{ id: photo, uri, caption, credit, width, height },
          ...{ file: `${uri}/${size}.jpg`, licence: licenceOf(licence).url },
        }
      }),
    sources: listSourcesOf(db, claims, base),
  }
}

function ofOriginal(db: Db, id: number) {
  const original = findOriginal(db, id)
  if (!original) return undefined
  const { name, holder, inventoryNumber, findPlace, technique, date, earliestYear, latestYear } = original
  return {
    ...{ name, holder, inventoryNumber, findPlace, technique, maker: '', replicaOf: undefined },
    otherNames: original.otherNames.split('\n').filter((each) => each !== ''),
    made: { phrase: toPhrase(date), edtf: date, earliest: toIsoYear(earliestYear), latest: toIsoYear(latestYear) },
  }
}

function ofPiece(db: Db, id: number, base: string) {
  const piece = findPiece(db, id)
  if (!piece) return undefined
  const original = piece.originalId === undefined ? undefined : findOriginal(db, piece.originalId)
  const [from = '', to = ''] = [piece.onLoomOn ?? piece.wovenOn ?? piece.finishedOn, piece.finishedOn ?? piece.wovenOn]
  const edtf = from === to || to === '' ? from : `${from}/${to}`
  return {
    ...{ name: piece.name, otherNames: [], holder: '', inventoryNumber: '', findPlace: '' },
    technique: piece.draftRevisionId === undefined ? '' : 'tablet weaving',
    maker: piece.maker,
    replicaOf: original && { uri: `${base}/originals/${original.id}`, name: original.name },
    made: { phrase: toPhrase(edtf), edtf, earliest: from, latest: to },
  }
}

/** An astronomical year in four digits: -459 is 460 BCE and written `-0459`. */
const toIsoYear = (year: number | null) =>
  year === null ? '' : `${year < 0 ? '-' : ''}${String(Math.abs(year)).padStart(4, '0')}`

function toMeasure(db: Db, claim: Claim): Measure[] {
  const feature = findAnyFeature(db, claim.feature)
  if (!feature || feature.baseUnit === null || !isQuantity(feature.kind) || claim.unit === '') return []
  const { baseUnit, label } = feature
  const text = `${figureLine(claim, feature)}, ${labelOf(STATES, claim.state)}`
  const head = { feature: feature.key, label, part: claim.part, unit: baseUnit, text }
  if (claim.kind === 'range') {
    const end = (typed: string | null) =>
      typed === null ? undefined : convertUnit(Number(typed), claim.unit as Unit, baseUnit)
    return [{ ...head, value: undefined, low: end(claim.low), high: end(claim.high) }]
  }
  const mean = meanOf(claim, feature)
  return mean === undefined ? [] : [{ ...head, value: mean, low: undefined, high: undefined }]
}

function meanOf(claim: Claim, feature: Parameters<typeof toQuantity>[1]): number | undefined {
  const { quantity } = toQuantity(claim, feature)
  if (!quantity) return undefined
  if ('value' in quantity) return quantity.value
  return quantity.readings.reduce((sum, reading) => sum + reading, 0) / quantity.readings.length
}

function listSourcesOf(db: Db, claims: readonly Claim[], base: string) {
  const ids = [...new Set(claims.flatMap(({ source }) => (source ? [source.id] : [])))]
  return ids.flatMap((id) => {
    const source = findSource(db, id)
    return source ? [{ text: toReference(source), uri: `${base}/sources/${id}` }] : []
  })
}
