// How near a piece comes to its original, as its maker judges it, aspect by aspect; what was decided on the way, on what
// evidence; and how much each aspect counts to somebody. Which aspects and relations there are is the program's to say and
// may grow, so no list of them stands here.

const JUDGEMENT = [
  ...[
    'known',
    'used',
    'relation',
    'reason_kind',
    'reason',
    'look',
    'size',
    'hand',
    'wear',
    'label_words',
    'deleted_at',
  ],
]
const DECISION = ['on_day', 'decided_by', 'question', 'decided', 'evidence', 'considered', 'deleted_at']
const WEIGHTING = ['name', 'weights', 'notes']
const SHARING = ['owner_id', 'visibility', 'deleted_at']

const at = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')"
const entry = (table: string, row: 'new' | 'old', action: string, fields: string) =>
  `insert into change (at, member_id, kind, item_id, action, version, fields) values (${at}, current_member(), '${table}', ${row}.id, '${action}', ${row}.version, ${fields});`
const log = (table: string, columns: readonly string[]) => {
  const any = columns.map((column) => `old.${column} is not new.${column}`).join(' or ')
  const pairs = columns
    .map((column) => `select '${column}' as field, old.${column} as before, new.${column} as after`)
    .join(' union all ')
  return `
create trigger change_${table}_insert after insert on ${table} begin ${entry(table, 'new', 'insert', "'{}'")} end;
create trigger change_${table}_delete after delete on ${table} begin ${entry(table, 'old', 'delete', "'{}'")} end;
create trigger change_${table}_update after update on ${table} when ${any}
begin
  ${entry(table, 'new', 'update', `(select json_group_object(field, json_array(before, after)) from (${pairs}) where before is not after)`)}
end;`
}

export const name = '20261128-1040-fidelity'

export const up = `
create table judgement (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  piece_id integer not null references piece (id) on delete cascade,
  aspect text not null,
  place text not null,
  known text not null,
  used text not null,
  relation text not null,
  reason_kind text not null,
  reason text not null,
  look text not null,
  size text not null,
  hand text not null,
  wear text not null,
  label_words text not null,
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null
) strict;
create unique index judgement_spot on judgement (piece_id, aspect, place) where deleted_at is null;

create table decision (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  original_id integer references original (id) on delete cascade,
  piece_id integer references piece (id) on delete cascade,
  on_day text not null,
  decided_by text not null,
  question text not null,
  decided text not null,
  evidence text not null,
  considered text not null,
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null,
  check ((original_id is null) <> (piece_id is null))
) strict;
create index decision_original on decision (original_id);
create index decision_piece on decision (piece_id);

create table weighting (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  name text not null,
  weights text not null check (json_valid(weights)),
  notes text not null,
  demo integer not null default 0 check (demo in (0, 1)),
  owner_id integer references member (id) on delete restrict,
  visibility text not null default 'private' check (visibility in ('private', 'members', 'published')),
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null
) strict;
create index weighting_owner on weighting (owner_id);
${log('judgement', JUDGEMENT)}
${log('decision', DECISION)}
${log('weighting', [...WEIGHTING, ...SHARING])}
`
