import { STAGE_LABELS } from '../../shared/work/stage.ts'
import { listSharedMinutes } from '../../shared/work/shared-minutes.ts'
import { workedMinutes } from '../../shared/work/pace.ts'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { groupSums, type GroupView } from '../sitting/groups.ts'
import { ORIGIN_LABELS } from '../sitting/origin.ts'
import type { Sitting } from '../sitting/queries.ts'
import { saySaid, wasCorrected } from '../sitting/said.ts'
import { toLocal } from '../sitting/time.ts'
import { stageSums, toTimes, type StageView } from '../sitting/view.ts'
import type { LimitsEntered } from './form.ts'
import type { LimitsInForce } from './limit-queries.ts'
import type { Proposal, Proposals } from './proposal.ts'
import type { LeftOut } from './queries.ts'
import type { TimerView } from './timer-view.ts'

declare module '../pages.ts' {
  interface Pages {
    'hours/show': HoursPage
  }
}

interface HoursPage extends PageHead {
  readonly id: number
  readonly name: string
  readonly mayEdit: boolean
  readonly timer: TimerView
  readonly proposals: readonly ProposalView[]
  /** How many the one button approves; 0 where it would approve none or only one. */
  readonly approveAll: number
  /** The rules by which sittings are read off the steps, in sentences. */
  readonly rules: readonly string[]
  readonly rest: readonly string[]
  readonly hasSteps: boolean
  readonly groups: readonly GroupView[]
  readonly stages: readonly StageView[]
  readonly total: StageView
  /** Minutes that stand in two sittings; empty where none do. */
  readonly shared: string
  readonly sittings: readonly HoursRow[]
  readonly leftOut: readonly { readonly id: number; readonly times: string }[]
  readonly fields: Record<keyof LimitsEntered, FieldView>
  readonly limitsFrom: string
  readonly problems: readonly { href: string; text: string }[]
  readonly limitsOpen: boolean
}

interface ProposalView {
  readonly key: string
  readonly id: string
  readonly stage: string
  readonly day: string
  readonly times: string
  readonly start: string
  readonly worked: string
  readonly breaks: string
  readonly picks: string
  readonly maker: string
  /** What to look at before it is approved. */
  readonly doubts: readonly string[]
  readonly correctPath: string
}

interface HoursRow {
  readonly path: string
  readonly day: string
  readonly times: string
  readonly stage: string
  readonly worked: string
  readonly breaks: string
  readonly origin: string
  /** What steps or clock said, where the maker made something else of it. */
  readonly said: string
  readonly shares: string
}

const SPECS: Record<keyof LimitsEntered, FieldSpec> = {
  breakMinutes: {
    label: 'A gap is a break when it is longer than, minutes',
    inputmode: 'numeric',
    hint: 'From 1 to 60.',
  },
  endMinutes: {
    label: 'A gap ends the sitting when it is longer than, minutes',
    inputmode: 'numeric',
    hint: 'Up to 720, and not less than the other.',
  },
  forAll: { label: 'For all my pieces that have no limits of their own', control: 'tick' },
}

export interface HoursFacts {
  readonly piece: { readonly id: number; readonly name: string; readonly maker: string }
  readonly sittings: readonly Sitting[]
  readonly told: Proposals
  readonly leftOut: readonly (LeftOut & { readonly zone: string })[]
  readonly limits: LimitsInForce
  readonly timer: TimerView
  readonly mayEdit: boolean
}

export function hoursPage(
  { piece, sittings, told, leftOut, limits, timer, mayEdit }: HoursFacts,
  notice: string,
  typed?: { readonly entered: LimitsEntered; readonly problems: Problems<LimitsEntered> },
): HoursPage {
  const fields = formFields(SPECS, typed?.entered ?? typedLimits(limits), typed?.problems)
  const { stages, total } = stageSums(sittings)
  const shared = listSharedMinutes(sittings)
  const twice = shared.reduce((sum, minutes) => sum + minutes, 0)
  const sure = told.proposals.filter(isSure)
  return {
    ...{ title: `Hours: ${piece.name}`, section: 'pieces', notice, scripts: ['timer'] },
    ...{ id: piece.id, name: piece.name, mayEdit, timer },
    proposals: mayEdit ? told.proposals.map((one, at) => toProposalView(one, at, piece)) : [],
    approveAll: mayEdit && sure.length > 1 ? sure.length : 0,
    rules: sayRules(limits),
    rest: mayEdit ? told.rest.map(sayRest) : [],
    hasSteps: told.steps > 0,
    groups: groupSums(sittings),
    ...{ stages, total },
    shared: twice === 0 ? '' : durationInWords(twice),
    sittings: sittings
      .map((sitting, at): HoursRow => {
        const times = toTimes(sitting)
        return {
          path: mayEdit ? `/sittings/${sitting.id}/edit` : '',
          ...{ day: dayInWords(sitting.day), times, stage: STAGE_LABELS[sitting.stage] },
          worked: durationInWords(workedMinutes(sitting)),
          breaks: sitting.breakMinutes === 0 ? '' : durationInWords(sitting.breakMinutes),
          origin: ORIGIN_LABELS[sitting.origin],
          said: wasCorrected(sitting) ? saySaid(sitting) : '',
          shares: shared[at] ? `${durationInWords(shared[at])} stand in another sitting too` : '',
        }
      })
      .reverse(),
    leftOut: mayEdit ? leftOut.map(({ id, from, to, zone }) => ({ id, times: saySpan(from, to, zone) })) : [],
    fields,
    limitsFrom: {
      piece: 'These are the limits of this piece.',
      maker: 'These are the limits of all pieces of its owner that have none of their own.',
      default: 'Nobody has set them: these are the usual ones.',
    }[limits.from],
    problems: problemList(fields),
    limitsOpen: typed !== undefined,
  }
}

/** Neither still going on, nor perhaps noted already. */
export const isSure = ({ mayGoOn, untimedMinutes }: Proposal): boolean => !mayGoOn && untimedMinutes === 0

export const typedLimits = ({ limits, from }: LimitsInForce): LimitsEntered => ({
  breakMinutes: String(limits.breakMinutes),
  endMinutes: String(limits.endMinutes),
  forAll: from === 'maker' ? 'yes' : '',
})

function toProposalView(one: Proposal, at: number, piece: HoursFacts['piece']): ProposalView {
  const { startedAt, endedAt, zone, minutes, breakMinutes, picks, untimedMinutes } = one
  const doubts = [
    one.mayGoOn ? 'Its last step was only just taken: it may still go on.' : '',
    untimedMinutes > 0
      ? `A sitting of ${durationInWords(untimedMinutes)} is noted on that day without its times: is it the same work?`
      : '',
  ].filter(Boolean)
  return {
    ...{ key: one.key, id: `p${at}`, stage: STAGE_LABELS[one.stage], day: dayInWords(one.day) },
    ...{ times: toTimes({ startedAt, endedAt, zone }), start: toLocal(startedAt, zone).time },
    worked: durationInWords(minutes - breakMinutes),
    breaks: breakMinutes === 0 ? '' : durationInWords(breakMinutes),
    picks: `${picks} ${picks === 1 ? 'pick' : 'picks'}${one.stage === 'unweave' ? ' undone' : ''}`,
    maker: one.maker === piece.maker ? '' : one.maker,
    doubts,
    correctPath: `/pieces/${piece.id}/sittings/new?steps=${encodeURIComponent(one.key)}`,
  }
}

function sayRules({ limits: { breakMinutes, endMinutes } }: LimitsInForce): string[] {
  return [
    `A gap of more than ${breakMinutes} min between two steps is a break, and so is every pause; one of more than ${endMinutes} min ends the sitting.`,
    'The first pick of a sitting has no step before it, nor has the first after a break: how long they took is not known, and a sitting begins with its first step. Where you began earlier, set the beginning before you approve.',
    'Steps are rounded to the minute. Unweaving stands by itself where it took a minute or more; less stays with the weaving, its picks taken off.',
    'Time that another sitting of yours has already, at this piece or another, is left out.',
  ]
}

const sayRest = ({ from, to, zone, steps, picks }: Proposals['rest'][number]): string =>
  `${saySpan(from, to, zone)}: ${steps} ${steps === 1 ? 'step' : 'steps'}, ${picks} ${picks === 1 ? 'pick' : 'picks'}`

function saySpan(from: string, to: string, zone: string): string {
  const [start, end] = [toLocal(from, zone), toLocal(to, zone)]
  if (start.day === end.day && start.time === end.time) return `${dayInWords(start.day)}, ${start.time}`
  return `${dayInWords(start.day)}, ${start.time} to ${start.day === end.day ? '' : `${dayInWords(end.day)}, `}${end.time}`
}
