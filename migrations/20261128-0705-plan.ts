// What a piece is to be woven with: one plan a piece, every field of it as it was typed; its yarns, by colour of the warp
// and for the weft; and which tablets somebody has ticked as threaded, which is scratch as a working copy is.

const COLUMNS = [
  ...['woven_by', 'woven_cm', 'repeats', 'picks_per_cm', 'width_mm', 'take_up_by', 'take_up_percent', 'take_up_of'],
  ...['waste_cm', 'sample_cm', 'fringe_cm', 'shrink_percent', 'weft_strands', 'weft_passes', 'weft_allowance'],
  ...['winder', 'winder_turn_cm', 'winder_arms', 'winder_spacing_cm', 'fibre', 'spun', 'twist_limit', 'block_picks'],
  ...['borders', 'reversals', 'wound_cm', 'left_cm', 'measured_cm', 'stopped_pick'],
]
const anyChanged = COLUMNS.map((column) => `old.${column} is not new.${column}`).join(' or ')
const pairs = COLUMNS.map(
  (column) => `select '${column}' as field, old.${column} as before, new.${column} as after`,
).join(' union all ')
const entry = (row: 'new' | 'old', action: string, fields: string) =>
  `insert into change (at, member_id, kind, item_id, action, version, fields) values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'plan', ${row}.id, '${action}', ${row}.version, ${fields});`

export const name = '20261128-0705-plan'

export const up = `
create table plan (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  piece_id integer not null unique references piece (id) on delete cascade,
  ${COLUMNS.map((column) => `${column} text not null`).join(',\n  ')},
  version integer not null default 1,
  created_at text not null,
  updated_at text not null
) strict;

create table plan_yarn (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  plan_id integer not null references plan (id) on delete cascade,
  position integer not null,
  part text not null check (part in ('warp', 'weft')),
  colour_key text not null,
  lot_id integer references lot (id) on delete set null,
  yarn_id integer references yarn (id) on delete set null,
  count text not null,
  unique (plan_id, part, colour_key)
) strict;
create index plan_yarn_lot on plan_yarn (lot_id);
create index plan_yarn_yarn on plan_yarn (yarn_id);

create table threading_tick (
  id integer primary key autoincrement,
  piece_id integer not null references piece (id) on delete cascade,
  member_id integer references member (id) on delete cascade,
  draft_revision_id integer not null references draft_revision (id) on delete cascade,
  tablets text not null check (json_valid(tablets)),
  saved_at text not null
) strict;
create unique index threading_tick_whose on threading_tick (piece_id, coalesce(member_id, 0));
create index threading_tick_member on threading_tick (member_id);
create index threading_tick_revision on threading_tick (draft_revision_id);

create trigger change_plan_insert after insert on plan begin ${entry('new', 'insert', "'{}'")} end;
create trigger change_plan_delete after delete on plan begin ${entry('old', 'delete', "'{}'")} end;
create trigger change_plan_update after update on plan when ${anyChanged}
begin
  ${entry('new', 'update', `(select json_group_object(field, json_array(before, after)) from (${pairs}) where before is not after)`)}
end;
`
