// What somebody read off a photograph, cell by cell: an observed face, kept with its original or piece; and, where it was
// set beside a draft revision, how it differs. Its words stand in the search row of what it belongs to; the rest of the
// index is as in 20261125-1840-photo-search.

const COLUMNS = [
  'photo_id',
  'colours',
  'cells',
  'marks',
  'observed_on',
  'observed_by',
  'note',
  'draft_revision_id',
  'deleted_at',
]
const anyChanged = COLUMNS.map((column) => `old.${column} is not new.${column}`).join(' or ')
const pairs = COLUMNS.map(
  (column) => `select '${column}' as field, old.${column} as before, new.${column} as after`,
).join(' union all ')
const entry = (row: 'new' | 'old', action: string, fields: string) =>
  `insert into change (at, member_id, kind, item_id, action, version, fields) values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'observed', ${row}.id, '${action}', ${row}.version, ${fields});`

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

const TEXTS: Record<Kind, { body: string; own: string; cited: string }> = {
  original: {
    own: "''",
    cited: locators('original_id'),
    body: `x.other_names || char(31) || x.holder || char(31) || x.inventory_number || char(31) || x.find_place || char(31) ||
      x.find_context || char(31) || x.date_edtf || char(31) || x.technique || char(31) || x.preservation || char(31) || x.notes
      || ${claims('original_id')} || ${photos('original_id')} || ${observed('original_id')}`,
  },
  piece: {
    own: 'x.for_whom',
    cited: locators('piece_id'),
    body: `x.maker || char(31) || x.notes || char(31) || x.went_wrong || char(31) || x.set_aside_reason
      || coalesce((select char(31) || group_concat(y.role || ' ' || y.yarn, char(31)) from piece_yarn y where y.piece_id = x.id), '')
      || ${claims('piece_id')}
      || coalesce((select char(31) || group_concat(s.note, char(31)) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.note <> ''), '')
      || coalesce((select char(31) || group_concat(distinct s.maker) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.maker <> x.maker), '')
      || ${photos('piece_id')} || ${observed('piece_id')}`,
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

export const name = '20261125-1855-observed'

export const up = `
create table observed (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  original_id integer references original (id) on delete cascade,
  piece_id integer references piece (id) on delete cascade,
  photo_id integer references photo (id) on delete set null,
  colours text not null check (json_valid(colours)),
  cells text not null,
  marks text not null check (marks = '' or json_valid(marks)),
  observed_on text,
  observed_by text not null,
  note text not null,
  draft_revision_id integer references draft_revision (id) on delete set null,
  shift integer,
  differing text not null check (differing = '' or json_valid(differing)),
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null,
  check ((original_id is null) <> (piece_id is null))
) strict;
create index observed_original on observed (original_id);
create index observed_piece on observed (piece_id);
create index observed_photo on observed (photo_id);
create index observed_draft_revision on observed (draft_revision_id);

create trigger change_observed_insert after insert on observed begin ${entry('new', 'insert', "'{}'")} end;
create trigger change_observed_delete after delete on observed begin ${entry('old', 'delete', "'{}'")} end;
create trigger change_observed_update after update on observed when ${anyChanged}
begin
  ${entry('new', 'update', `(select json_group_object(field, json_array(before, after)) from (${pairs}) where before is not after)`)}
end;
${own.join('')}
${children.join('')}
`
