import { sayCount, sayListed, sayNumbers } from '../../shared/draft/number-words.ts'
import { classPicks, listPacks } from '../../shared/draft/packs.ts'
import { barStrip, kindStrip, picksInStrip } from '../../shared/draft/picture/pick-strip.ts'
import { type Complexity, measureComplexity } from '../../shared/draft/tell/complexity.ts'
import { countHandfuls } from '../../shared/draft/tell/handful.ts'
import { listPickKinds } from '../../shared/draft/tell/pick-kind.ts'
import { writeTurning } from '../../shared/draft/turning.ts'
import type { Turning } from '../../shared/draft/woven.ts'
import { type Html, toHtml } from '../pages.ts'

const MOST_KINDS = 40
const MOST_PACKS = 40

export interface PickView {
  readonly packs: readonly string[]
  readonly packsLead: string
  readonly handfulPicture: Html
  readonly kindPicture: Html
  readonly kindLead: string
  readonly leftOut: string
  readonly kinds: readonly { kind: number; turns: string; picks: string; relation: string }[]
  readonly moreKinds: string
  readonly complexity: readonly { label: string; value: string; about: string }[]
}

export function pickView(turning: Turning): PickView {
  const { picks } = turning
  const packs = listPacks(turning)
  const handfuls = countHandfuls(turning)
  const kinds = listPickKinds(turning)
  const repeated = kinds.filter((kind) => kind.picks.length > 1).length
  const drawn = picksInStrip(picks)
  return {
    packs: packs.slice(0, MOST_PACKS).map((tablets) => sayListed('tablet', tablets)),
    packsLead: sayPacks(packs.length, turning.tablets, handfuls),
    handfulPicture: toHtml(barStrip(handfuls, `Handfuls that each of ${sayCount(drawn, 'pick')} needs`)),
    kindPicture: toHtml(kindStrip(classPicks(turning), `Which of ${sayCount(drawn, 'pick')} are equal`)),
    kindLead: `${sayCount(kinds.length, 'different pick')} in ${picks}; ${repeated} of them ${repeated === 1 ? 'comes' : 'come'} more than once.`,
    leftOut: drawn === picks ? '' : `The first ${drawn} of ${picks} picks are drawn.`,
    kinds: kinds.slice(0, MOST_KINDS).map(({ kind, picks, opposite, mirrored }) => ({
      kind,
      turns: writeTurning(rowOf(turning, picks[0]!))[0]!,
      picks: sayNumbers(picks, 8),
      relation: sayRelation(kind, opposite, mirrored),
    })),
    moreKinds:
      kinds.length > MOST_KINDS ? `Another ${sayCount(kinds.length - MOST_KINDS, 'kind')} not set out here.` : '',
    complexity: listComplexity(measureComplexity(turning)),
  }
}

function rowOf({ tablets, turns }: Turning, pick: number): Turning {
  return { tablets, picks: 1, turns: turns.subarray((pick - 1) * tablets, pick * tablets) }
}

function sayPacks(packs: number, tablets: number, handfuls: Int32Array): string {
  const least = handfuls.reduce((a, b) => Math.min(a, b))
  const most = handfuls.reduce((a, b) => Math.max(a, b))
  const range = least === most ? sayCount(most, 'handful') : `from ${least} to ${sayCount(most, 'handful')}`
  const alike =
    packs === 1
      ? `All ${sayCount(tablets, 'tablet')} turn alike through the whole repeat: one pack.`
      : packs === tablets
        ? `No two of the ${tablets} tablets turn alike through the whole repeat.`
        : `The ${tablets} tablets make ${packs} packs that turn alike through the whole repeat.`
  return `${alike} A pick needs ${range}: neighbours that turn alike at that pick are taken together.`
}

function sayRelation(kind: number, opposite: number, mirrored: number): string {
  const said: string[] = []
  if (mirrored === kind) said.push('symmetric')
  else if (mirrored > 0) said.push(`mirror of ${mirrored}`)
  if (opposite > 0 && opposite !== kind) said.push(`${opposite} the other way`)
  return said.join(', ')
}

function listComplexity(of: Complexity): PickView['complexity'] {
  const two = (value: number) => String(Math.round(value * 100) / 100)
  const mean = `mean of n = ${of.picks} picks`
  return [
    {
      label: 'Tablets that change direction',
      value: `${two(of.changesPerPick)} a pick`,
      about: `Against their own last turn, the seam between repeats included; ${mean}, of ${sayCount(of.tablets, 'tablet')}.`,
    },
    {
      label: 'Handfuls',
      value: `${two(of.handfulsPerPick)} a pick`,
      about: `Runs of neighbours that turn alike; ${mean}.`,
    },
    {
      label: 'Packs',
      value: String(of.packs),
      about: `Of ${sayCount(of.tablets, 'tablet')}, through the whole repeat.`,
    },
    { label: 'Different picks', value: String(of.distinctPicks), about: `Of n = ${of.picks}.` },
    {
      label: 'Surprise',
      value: `${sayCount(Number(two(of.bitsPerPick)), 'bit')} a pick`,
      about:
        `Entropy of the pick given the one before it, n = ${of.picks} pairs round the repeat. For every pair: its share of ` +
        'all pairs, times log2 of one over the share in which the second follows the first; added up (conditional entropy, ' +
        'Shannon 1948). Each bit is one choice between two that the last pick does not settle. In a short repeat it comes ' +
        'out too small: where no pick comes twice it is 0, however hard the repeat is to learn.',
    },
    {
      label: 'Surprise without the pick before',
      value: `${sayCount(Number(two(of.bitsPerPickAlone)), 'bit')} a pick`,
      about: `Entropy of the pick alone, n = ${of.picks}.`,
    },
  ]
}
