import { sayWholeTurns } from '../../shared/draft/check-turning.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount, sayListed, sayNumbers, sayPicks, startSentence } from '../../shared/draft/number-words.ts'
import { listPacks } from '../../shared/draft/packs.ts'
import { type ClothEffect, type NeutralOffer, offerNeutral } from '../../shared/draft/tell/neutral-offer.ts'
import { listTwistRuns, standAfter, twistOf, type TwistRun } from '../../shared/draft/tell/twist-run.ts'
import type { Turning } from '../../shared/draft/woven.ts'

/** Rows of the table before the rest is counted. */
const MOST_ROWS = 40
const REPEATS = [1, 2, 3, 4, 8] as const

export interface TwistView {
  readonly lead: string
  readonly balance: string
  readonly repeats: readonly number[]
  readonly rows: readonly {
    readonly tablets: string
    readonly net: string
    readonly most: string
    readonly stands: readonly string[]
    readonly warp: string
  }[]
  readonly moreRows: string
  readonly offers: readonly { readonly what: string; readonly effect: string }[]
}

export function twistView(draft: Draft, turning: Turning): TwistView {
  const runs = listTwistRuns(turning)
  const { neutral, balance, offers } = offerNeutral(draft, turning)
  const packs = listPacks(turning)
  const furthest = runs.reduce((a, b) => (Math.abs(b.most) > Math.abs(a.most) ? b : a))
  return {
    lead: `${neutral ? 'Neutral: no repeat leaves twist in the bare warp.' : sayLeft(runs)} ${sayFurthest(furthest)}`,
    balance: neutral ? '' : sayBalance(balance),
    repeats: neutral ? [] : REPEATS,
    rows: packs.slice(0, MOST_ROWS).map((tablets) => toRow(draft, tablets, runs[tablets[0]! - 1]!, neutral)),
    moreRows: packs.length > MOST_ROWS ? `Another ${sayCount(packs.length - MOST_ROWS, 'pack')} not set out here.` : '',
    offers: offers.map((offer) => ({ what: sayOffer(offer), effect: sayEffect(offer) })),
  }
}

function sayLeft(runs: readonly TwistRun[]): string {
  const left = runs.filter(({ net }) => net !== 0)
  return `Each repeat leaves twist behind in ${sayCount(left.length, 'tablet')} of ${runs.length}.`
}

function sayFurthest({ most, tablet, mostAt }: TwistRun): string {
  if (most === 0) return 'No tablet turns.'
  const way = most > 0 ? 'forward' : 'back'
  return `Within a repeat twist goes furthest in tablet ${tablet}: ${sayWholeTurns(most)} ${way}, at pick ${mostAt}.`
}

function sayBalance(balance: number): string {
  if (balance === 0) return 'Over the whole width S-twist and Z-twist of the bare warp weigh the same.'
  const [more, less] = balance > 0 ? ['S', 'Z'] : ['Z', 'S']
  return `Over the whole width ${more}-twist outweighs ${less}-twist by ${sayWholeTurns(balance)} a repeat, all tablets added up.`
}

const signed = (value: number) => (value > 0 ? `+${value}` : value < 0 ? `−${-value}` : '0')

function toRow(draft: Draft, tablets: readonly number[], run: TwistRun, neutral: boolean): TwistView['rows'][number] {
  const stands = standAfter(run, REPEATS.at(-1)!)
  const twists = new Set(tablets.map((tablet) => twistOf(draft.tablets[tablet - 1]!.threading, run.net) ?? 'none'))
  return {
    tablets: sayNumbers(tablets, 6),
    net: signed(run.net),
    most: run.most === 0 ? '0' : `${signed(run.most)} at pick ${run.mostAt}`,
    stands: neutral ? [] : REPEATS.map((repeat) => signed(stands[repeat - 1]!.turns)),
    warp: [...twists].sort().join(' and '),
  }
}

function sayOffer(offer: NeutralOffer): string {
  if (offer.kind === 'block') {
    const blocks = offer.blocks.slice(0, 8).map(({ tablets, from, to }) => {
      return `${sayListed('tablet', tablets)} at ${sayPicks(from, to)}`
    })
    const more = offer.blocks.length > 8 ? `; and ${sayCount(offer.blocks.length - 8, 'more block')}` : ''
    return `Turn the other way: ${blocks.join('; ')}${more}. Every repeat is then neutral.`
  }
  if (offer.kind === 'everySecond') {
    return (
      `Turn ${sayListed('tablet', offer.tablets)} the other way in every second repeat. Two repeats are then neutral. ` +
      'By hand: turn these tablets over about their upright axis after each repeat and go on as before; that is the same.'
    )
  }
  return (
    `Thread ${sayListed('tablet', offer.tablets)} the other way, S for Z and Z for S. This takes twist from no tablet; ` +
    'S-twist and Z-twist of the bare warp then weigh the same, so that the band does not want to turn.'
  )
}

function sayEffect({ kind, effect }: NeutralOffer): string {
  const { cells, colours, slants } = effect
  const over = kind === 'everySecond' ? 'in two repeats' : 'in one repeat'
  const face =
    colours === 0
      ? `Woven: every cell of the face keeps its colour (n = ${cells} ${over})`
      : `Woven: the face does not stay the same. ${colours} of ${cells} cells ${over} change colour`
  const lean =
    slants === 0
      ? ', and every stitch leans as before.'
      : `, and ${sayCount(slants, 'stitch').replace(/hs$/, 'hes')} lean the other way.`
  return startSentence(face + lean + sayFloats(effect) + sayClosing(effect))
}

function sayFloats({ floatBefore, floatAfter }: ClothEffect): string {
  const [before, after] = [floatBefore, floatAfter].map(({ face, reverse }) => Math.max(face, reverse)) as [
    number,
    number,
  ]
  if (after <= before) return ''
  return Number.isFinite(after)
    ? ` The longest float becomes ${sayCount(after, 'pick')}; it was ${before}.`
    : ' A thread then floats without end.'
}

const sayClosing = ({ closesAfter }: ClothEffect) =>
  closesAfter === 1 ? '' : ` The pattern then closes after ${closesAfter} repeats.`
