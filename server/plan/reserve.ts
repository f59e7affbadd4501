import type { PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import { planSheet } from '../../shared/plan/sheet.ts'
import type { YarnNeed } from '../../shared/plan/work-out.ts'
import { planMovement, sayGrams } from '../../shared/yarn/ledger.ts'
import type { Db } from '../db/open.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { insertMovement, listMovements, listPieceLots } from '../yarn/ledger-queries.ts'
import type { ReserveView } from './pages.ts'

const lotIdOf = ({ yarn }: YarnNeed): number | undefined => {
  const [, id] = /^lot-(\d+)$/.exec(yarn.value) ?? []
  return id === undefined ? undefined : Number(id)
}

/** What each lot is to have reserved for the plan, whole milligrams, rounded up; a lot whose tex is not known has none. */
function wantedByLot(needs: readonly YarnNeed[]): Map<number, number> {
  return new Map(
    needs.flatMap((need) => {
      const id = lotIdOf(need)
      return id === undefined || need.massG === null ? [] : [[id, Math.ceil(need.massG * 1000)]]
    }),
  )
}

/**
 * Brings the reservations of a piece to what its plan needs: more is reserved, and what it needs no more is released.
 * Nothing is promised that is not there.
 * @param day on the maker's clock
 * @param at the instant, ISO
 * @returns false where a lot is short, or is not the viewer's to reserve from
 */
export function reserveNeeds(
  db: Db,
  { pieceId, needs, day }: { pieceId: number; needs: readonly YarnNeed[]; day: string },
  at: string,
): boolean {
  return db.write(() => {
    const reserved = new Map(listPieceLots(db, pieceId).map(({ lotId, reservedMg }) => [lotId, reservedMg]))
    const wanted = wantedByLot(needs)
    let isAll = true
    for (const lotId of new Set([...wanted.keys(), ...reserved.keys()])) {
      const change = (wanted.get(lotId) ?? 0) - (reserved.get(lotId) ?? 0)
      if (change === 0) continue
      const kind = change > 0 ? 'reserved' : 'released'
      const planned = planMovement(kind, Math.abs(change), listMovements(db, lotId), pieceId)
      if (!viewerMayEdit(db, 'lot', lotId) || !planned.ok || planned.question !== '') {
        isAll = false
        continue
      }
      insertMovement(
        db,
        { ...planned.change, lotId, kind, day, pieceId, acceptedBelow: false, note: 'by the plan' },
        at,
      )
    }
    return isAll
  })
}

/** How far the kept plan has its yarn, and the button that brings the reservations to it; nothing where no lot is named. */
export function reserveView(db: Db, pieceId: number, entered: PlanEntered, facts: PlanFacts): ReserveView | '' {
  const wanted = wantedByLot(planSheet(entered, facts).figures.needs)
  const reserved = listPieceLots(db, pieceId).filter(({ reservedMg }) => reservedMg > 0)
  if (wanted.size === 0 && reserved.length === 0) return ''
  const labels = new Map(facts.yarns.map(({ value, label }) => [value, label]))
  const said = reserved.map(
    ({ lotId, reservedMg }) => `${sayGrams(reservedMg)} of ${labels.get(`lot-${lotId}`) ?? 'a lot'}`,
  )
  const isDone =
    reserved.length === wanted.size && reserved.every(({ lotId, reservedMg }) => wanted.get(lotId) === reservedMg)
  const says =
    said.length === 0 ? 'Nothing is reserved for this piece yet.' : `Reserved for this piece: ${said.join('; ')}.`
  const action = `/pieces/${pieceId}/plan/reserve`
  return {
    settlePath: `/pieces/${pieceId}/settle`,
    says: isDone ? `${says} That is what the plan as it is kept needs.` : says,
    buttons: isDone ? [] : [{ action, label: 'Reserve what the kept plan needs' }],
  }
}
