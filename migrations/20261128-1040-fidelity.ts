// How near a piece comes to its original, as its maker judges it, aspect by aspect; what was decided on the way, on what
// evidence; and how much each aspect counts to somebody. Which aspects and relations there are is the program's to say and
// may grow, so no list of them stands here. Their words stand in the search row of what they belong to; the rest of the
// index is as in 20261125-1855-observed.

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

const KINDS = { original: 0, piece: 1 } as const
type Kind = keyof typeof KINDS

const feature = (c: string) => `coalesce((select f.label from feature f where f.key = ${c}.feature), '')`
const claimText = (c: string) =>
  `trim(${[feature(c), `${c}.part`, `coalesce(${c}.words, '')`, `${c}.claimed_by`, `iif(${c}.source_id is null, ${c}.locator, '')`, `${c}.reason`, `${c}.working_reason`, `${c}.withdrawn_reason`].join(` || ' ' || `)})`
const claims = (key: string) =>
  `coalesce((select char(31) || group_concat(${claimText('c')}, char(31)) from claim c where c.${key} = x.id), '')`
const photos = (key: string) =>
  `coalesce((select char(31) || group_concat(trim(h.caption || ' ' || h.part || ' ' || h.credit), char(31)) from photo h
    where h.${key} = x.id and h.deleted_at is null), '')`
const observed = (key: string) =>
  `coalesce((select char(31) || group_concat(trim(o.note || ' ' || o.observed_by || ' ' || coalesce((select
      group_concat(k.value ->> 'name', ', ') from json_each(o.colours) k), '')), char(31)) from observed o
    where o.${key} = x.id and o.deleted_at is null), '')`
const locators = (key: string) => `coalesce((select group_concat(c.locator, char(31)) from claim c
    where c.${key} = x.id and c.source_id is not null and c.locator <> ''), '')`

const decided = (key: string) =>
  `coalesce((select char(31) || group_concat(trim(d.question || ' ' || d.decided || ' ' || d.evidence || ' ' ||
      d.considered || ' ' || d.decided_by), char(31)) from decision d where d.${key} = x.id and d.deleted_at is null), '')`
const JUDGED = ['known', 'used', 'reason', 'look', 'size', 'hand', 'wear', 'label_words']
const judged = `coalesce((select char(31) || group_concat(trim(${JUDGED.map((column) => `j.${column}`).join(" || ' ' || ")}), char(31))
    from judgement j where j.piece_id = x.id and j.deleted_at is null), '')`

const TEXTS: Record<Kind, { body: string; own: string; cited: string }> = {
  original: {
    own: "''",
    cited: locators('original_id'),
    body: `x.other_names || char(31) || x.holder || char(31) || x.inventory_number || char(31) || x.find_place || char(31) ||
      x.find_context || char(31) || x.date_edtf || char(31) || x.technique || char(31) || x.preservation || char(31) || x.notes
      || ${claims('original_id')} || ${photos('original_id')} || ${observed('original_id')} || ${decided('original_id')}`,
  },
  piece: {
    own: 'x.for_whom',
    cited: locators('piece_id'),
    body: `x.maker || char(31) || x.notes || char(31) || x.went_wrong || char(31) || x.set_aside_reason
      || coalesce((select char(31) || group_concat(y.role || ' ' || y.yarn, char(31)) from piece_yarn y where y.piece_id = x.id), '')
      || ${claims('piece_id')}
      || coalesce((select char(31) || group_concat(s.note, char(31)) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.note <> ''), '')
      || coalesce((select char(31) || group_concat(distinct s.maker) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.maker <> x.maker), '')
      || ${photos('piece_id')} || ${observed('piece_id')} || ${decided('piece_id')} || ${judged}`,
  },
}

const CHILDREN: readonly { table: string; parent: Kind; key: string }[] = [
  { table: 'claim', parent: 'original', key: 'original_id' },
  { table: 'claim', parent: 'piece', key: 'piece_id' },
  { table: 'piece_yarn', parent: 'piece', key: 'piece_id' },
  { table: 'sitting', parent: 'piece', key: 'piece_id' },
  { table: 'photo', parent: 'original', key: 'original_id' },
  { table: 'photo', parent: 'piece', key: 'piece_id' },
  { table: 'observed', parent: 'original', key: 'original_id' },
  { table: 'observed', parent: 'piece', key: 'piece_id' },
  { table: 'decision', parent: 'original', key: 'original_id' },
  { table: 'decision', parent: 'piece', key: 'piece_id' },
  { table: 'judgement', parent: 'piece', key: 'piece_id' },
]

const put = (kind: Kind, which: string) => `insert into search (rowid, kind, item_id, title, body, own, cited)
    select x.id * 4 + ${KINDS[kind]}, '${kind}', x.id, x.name, ${TEXTS[kind].body}, ${TEXTS[kind].own}, ${TEXTS[kind].cited}
    from ${kind} x where ${which};`
const drop = (kind: Kind, id: string) => `delete from search where rowid = ${id} * 4 + ${KINDS[kind]};`
const refresh = (kind: Kind, id: string) => `${drop(kind, id)} ${put(kind, `x.id = ${id}`)}`

const own = (Object.keys(KINDS) as Kind[]).map(
  (kind) => `
drop trigger search_${kind}_insert;
drop trigger search_${kind}_update;
create trigger search_${kind}_insert after insert on ${kind} begin ${put(kind, 'x.id = new.id')} end;
create trigger search_${kind}_update after update on ${kind} begin ${refresh(kind, 'new.id')} end;`,
)
const children = CHILDREN.map(
  ({ table, parent, key }) => `
drop trigger if exists search_${parent}_${table}_insert;
drop trigger if exists search_${parent}_${table}_update;
drop trigger if exists search_${parent}_${table}_delete;
create trigger search_${parent}_${table}_insert after insert on ${table} when new.${key} is not null begin ${refresh(parent, `new.${key}`)} end;
create trigger search_${parent}_${table}_update after update on ${table} when new.${key} is not null begin ${refresh(parent, `new.${key}`)} end;
create trigger search_${parent}_${table}_delete after delete on ${table} when old.${key} is not null begin ${refresh(parent, `old.${key}`)} end;`,
)

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
${own.join('')}
${children.join('')}
`
