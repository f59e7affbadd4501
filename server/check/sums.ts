import type { Db } from '../db/open.ts'
import { count, some, type Finding } from './finding.ts'

interface Rule {
  /** Finds a text for each row that breaks the rule. */
  readonly sql: string
  readonly what: (broken: readonly string[]) => string
  readonly todo: string
}

const RULES: readonly Rule[] = [
  {
    sql: `select p.name || ' on ' || s.day from sitting s join piece p on p.id = s.piece_id
      where s.break_minutes > s.minutes or s.minutes < 0 or s.break_minutes < 0`,
    what: (rows) => `${count(rows.length, 'sitting')} with more break than time: ${some(rows)}.`,
    todo: 'Open the sitting from its piece, and put its times right.',
  },
  {
    sql: `select p.name || ' on ' || s.day from sitting s join piece p on p.id = s.piece_id
      where s.started_at is not null
        and abs((julianday(s.ended_at) - julianday(s.started_at)) * 1440 - s.minutes) > 1`,
    what: (rows) => `${count(rows.length, 'sitting')} whose minutes are not those from start to end: ${some(rows)}.`,
    todo: 'Open the sitting from its piece, and save it again with its start and end.',
  },
  {
    sql: `select d.title from draft d left join draft_revision r on r.draft_id = d.id
      group by d.id having count(r.id) = 0 or max(r.number) <> count(r.id) or min(r.number) <> 1`,
    what: (rows) => `${count(rows.length, 'draft')} whose revisions are not 1, 2, 3 and so on: ${some(rows)}.`,
    todo: 'A revision was lost. Restore the newest good backup, or keep the draft as it is and note it there.',
  },
  {
    sql: `select coalesce(o.name, p.name) || ': ' || c.feature || case c.part when '' then '' else ' (' || c.part || ')' end
      from claim c left join original o on o.id = c.original_id left join piece p on p.id = c.piece_id
      where c.working = 1 group by c.original_id, c.piece_id, c.feature, c.part having count(*) > 1`,
    what: (rows) => `${count(rows.length, 'feature')} with more than one working value: ${some(rows)}.`,
    todo: 'Open its claims, and choose the working value again.',
  },
  {
    sql: `select distinct 'member ' || x.member_id from change x left join member m on m.id = x.member_id
      where x.member_id is not null and m.id is null`,
    what: (rows) => `The log of changes names ${some(rows)}, who is not among the members.`,
    todo: 'What was changed is untouched; only who did it is lost. Nothing has to be done.',
  },
  {
    sql: `select name from (select name, owner_id from original union all select name, owner_id from piece
        union all select title, owner_id from draft union all select title, owner_id from source union all select name, owner_id from yarn)
      where owner_id is null and exists (select 1 from member)`,
    what: (rows) => `${count(rows.length, 'thing')} without an owner, so that no member can change it: ${some(rows)}.`,
    todo: 'Restore the newest good backup, or ask.',
  },
  {
    sql: `select y.name || ', ' || l.colour_name from movement m join lot l on l.id = m.lot_id join yarn y on y.id = l.yarn_id
      where (m.found_mg is not null and m.expected_mg is not null and m.kind = 'stocktake' and m.mass_mg <> m.found_mg - m.expected_mg)
        or (m.corrects_id is not null and not exists (select 1 from movement c where c.id = m.corrects_id and c.lot_id = m.lot_id))
      group by l.id`,
    what: (rows) => `${count(rows.length, 'lot')} whose ledger does not add up: ${some(rows)}.`,
    todo: 'Entries of a ledger are never changed, so this came from outside. Weigh the lot and enter a stock-take, or restore the newest good backup.',
  },
  {
    sql: `select y.name || ', ' || l.colour_name from lot l join yarn y on y.id = l.yarn_id join movement m on m.lot_id = l.id
      where l.deleted_at is null and y.deleted_at is null group by l.id
      having sum(m.mass_mg) < 0 and coalesce(max(m.accepted_below), 0) = 0`,
    what: (rows) =>
      `${count(rows.length, 'lot')} of which less than nothing is on hand, by the sum of the ledger: ${some(rows)}.`,
    todo: 'Weigh what is there, and enter a stock-take on the page of the lot.',
  },
  {
    sql: `select y.name || ', ' || l.colour_name from lot l join yarn y on y.id = l.yarn_id join movement m on m.lot_id = l.id
      where l.deleted_at is null and y.deleted_at is null group by l.id, m.piece_id having sum(m.reserved_mg) < 0`,
    what: (rows) => `${count(rows.length, 'lot')} of which more was released than was reserved: ${some(rows)}.`,
    todo: 'Open the lot and look at its reservations; correct the entry that is wrong.',
  },
  {
    sql: `select coalesce(q.number_year || '-' || q.number_serial, 'not numbered') from quote q left join quote_version v on v.quote_id = q.id
      group by q.id having count(v.id) <> coalesce(max(v.number), 0) or (count(v.id) = 0) <> (q.number_serial is null)`,
    what: (rows) => `${count(rows.length, 'quote')} whose versions are not 1, 2, 3 and so on: ${some(rows)}.`,
    todo: 'A version that was sent is lost. Restore the newest good backup, or look for it in an archive of your own.',
  },
]

/** Sums and orders that the tables alone do not hold. */
export function checkSums({ raw }: Db): Finding[] {
  return RULES.flatMap(({ sql, what, todo }) => {
    const broken = raw.prepare<[], string>(sql).pluck().all()
    return broken.length === 0 ? [] : [{ what: what(broken), todo }]
  })
}
