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
        union all select title, owner_id from draft union all select title, owner_id from source)
      where owner_id is null and exists (select 1 from member)`,
    what: (rows) => `${count(rows.length, 'thing')} without an owner, so that no member can change it: ${some(rows)}.`,
    todo: 'Restore the newest good backup, or ask.',
  },
]

/** Sums and orders that the tables alone do not hold. */
export function checkSums({ raw }: Db): Finding[] {
  return RULES.flatMap(({ sql, what, todo }) => {
    const broken = raw.prepare<[], string>(sql).pluck().all()
    return broken.length === 0 ? [] : [{ what: what(broken), todo }]
  })
}
