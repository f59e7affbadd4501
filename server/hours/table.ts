import { listSharedMinutes } from '../../shared/work/shared-minutes.ts'
import { workedMinutes } from '../../shared/work/pace.ts'
import { STAGE_LABELS } from '../../shared/work/stage.ts'
import { ORIGIN_LABELS } from '../sitting/origin.ts'
import type { Sitting } from '../sitting/queries.ts'
import { toLocalStamp } from '../sitting/time.ts'

const HEADINGS = [
  ...['piece', 'day', 'stage', 'start UTC', 'end UTC', 'start local', 'end local', 'zone', 'minutes', 'break minutes'],
  ...['worked minutes', 'minutes also in an earlier sitting', 'picks', 'repeats', 'length mm', 'maker', 'origin'],
  ...['said stage', 'said start UTC', 'said end UTC', 'said break minutes', 'said picks', 'note'],
]

/**
 * Sittings as rows of cells, the headings first. Local times carry their offset, so that the hour which comes twice is told
 * apart. What steps or clock said stands beside what was made of it.
 */
export function writeHours(sittings: readonly (Sitting & { readonly pieceName: string })[]): string[][] {
  const shared = listSharedMinutes(sittings)
  return [HEADINGS, ...sittings.map((sitting, at) => toCells(sitting, shared[at] ?? 0))]
}

function toCells(sitting: Sitting & { readonly pieceName: string }, shared: number): string[] {
  const { startedAt, endedAt, zone, said } = sitting
  const local = (at: string | undefined) => (at === undefined ? '' : toLocalStamp(at, zone))
  return [
    ...[sitting.pieceName, sitting.day, STAGE_LABELS[sitting.stage], startedAt ?? '', endedAt ?? ''],
    ...[local(startedAt), local(endedAt), zone, String(sitting.minutes), String(sitting.breakMinutes)],
    ...[String(workedMinutes(sitting)), String(shared)],
    ...[sitting.picks, sitting.repeats, sitting.lengthMm].map(toText),
    ...[sitting.maker, ORIGIN_LABELS[sitting.origin]],
    ...[said ? STAGE_LABELS[said.stage] : '', said?.startedAt ?? '', said?.endedAt ?? ''],
    ...[said?.breakMinutes, said?.picks].map(toText),
    sitting.note,
  ]
}

const toText = (value: number | undefined) => (value === undefined ? '' : String(value))
