// Who may see what, who changed what, and what lies in the bin. Rows from before have no owner: they are the lone
// maker's, until the first member is made and takes them over.

const OWNED = ['source', 'original', 'draft', 'piece'] as const

const columns = OWNED.map(
  (table) => `
alter table ${table} add column owner_id integer references member (id) on delete restrict;
alter table ${table} add column visibility text not null default 'private' check (visibility in ('private', 'members', 'published'));
alter table ${table} add column version integer not null default 1;
alter table ${table} add column deleted_at text;
create index ${table}_owner on ${table} (owner_id);`,
)

/** Columns whose change is no news: what the program keeps for itself. */
const LOGGED: Readonly<Record<string, readonly string[]>> = {
  source: ['title', 'people', 'year', 'kind', 'container', 'pages', 'doi', 'isbn', 'url', 'notes'],
  original: [
    ...['name', 'other_names', 'holder', 'inventory_number', 'find_place', 'find_context', 'date_edtf'],
    ...['technique', 'preservation', 'notes'],
  ],
  draft: ['title', 'notes', 'original_id'],
  piece: [
    ...['name', 'maker', 'for_whom', 'original_id', 'draft_revision_id', 'planned_on', 'on_loom_on', 'woven_on'],
    ...['finished_on', 'set_aside_on', 'set_aside_reason', 'notes', 'went_wrong'],
  ],
  claim: ['working', 'working_reason', 'withdrawn_on', 'withdrawn_reason', 'source_id'],
  sitting: [
    ...['maker', 'stage', 'zone', 'day', 'started_at', 'ended_at', 'minutes', 'break_minutes', 'picks', 'repeats'],
    ...['length_mm', 'note'],
  ],
  photo: ['caption', 'part', 'credit', 'licence', 'taken_on'],
}
const SHARING = ['owner_id', 'visibility', 'deleted_at']
const isOwned = (table: string) => (OWNED as readonly string[]).includes(table)
/** Belongs to a thing, has a version and a place in the bin of its own. */
const isPart = (table: string) => table === 'sitting' || table === 'photo'

const loggedColumns = (table: string) => [
  ...LOGGED[table]!,
  ...(isOwned(table) ? SHARING : isPart(table) ? ['deleted_at'] : []),
]

/** The member is told by `current_member()`, which every opening of the file defines. */
const logs = Object.keys(LOGGED).map((table) => {
  const any = loggedColumns(table)
    .map((column) => `old.${column} is not new.${column}`)
    .join(' or ')
  const pairs = loggedColumns(table)
    .map((column) => `select '${column}' as field, old.${column} as before, new.${column} as after`)
    .join(' union all ')
  const at = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')"
  const hasVersion = isOwned(table) || isPart(table)
  const entry = (row: 'new' | 'old', action: string, fields: string) =>
    `insert into change (at, member_id, kind, item_id, action, version, fields) values (${at}, current_member(), '${table}', ${row}.id, '${action}', ${hasVersion ? `${row}.version` : 'null'}, ${fields});`
  return `
create trigger change_${table}_insert after insert on ${table} begin ${entry('new', 'insert', "'{}'")} end;
create trigger change_${table}_delete after delete on ${table} begin ${entry('old', 'delete', "'{}'")} end;
create trigger change_${table}_update after update on ${table} when ${any}
begin
  ${entry('new', 'update', `(select json_group_object(field, json_array(before, after)) from (${pairs}) where before is not after)`)}
end;`
})

export const name = '20261125-0000-people'

export const up = `
create table member (
  id integer primary key autoincrement,
  name text not null,
  sign_in_name text not null unique collate nocase,
  password_hash text not null,
  role text not null check (role in ('keeper', 'member', 'guest')),
  created_at text not null,
  left_at text
) strict;

create table session (
  token_hash text primary key,
  member_id integer not null references member (id) on delete cascade,
  created_at text not null,
  seen_at text not null,
  expires_at text not null,
  agent text not null
) strict;
create index session_member on session (member_id);

create table known_device (
  token_hash text not null,
  member_id integer not null references member (id) on delete cascade,
  seen_at text not null,
  primary key (token_hash, member_id)
) strict, without rowid;

create table sign_in_limit (
  key text primary key,
  points integer not null default 0,
  expire integer
) strict;

create table one_time_link (
  token_hash text primary key,
  kind text not null check (kind in ('setup', 'invite', 'reset')),
  member_id integer references member (id) on delete cascade,
  role text not null check (role in ('keeper', 'member', 'guest')),
  created_at text not null,
  expires_at text not null,
  used_at text
) strict;

create table api_token (
  id integer primary key autoincrement,
  token_hash text not null unique,
  member_id integer not null references member (id) on delete cascade,
  name text not null,
  scope text not null check (scope in ('read', 'write')),
  created_at text not null,
  expires_at text not null,
  last_used_at text
) strict;

create table co_maker (
  piece_id integer not null references piece (id) on delete cascade,
  member_id integer not null references member (id) on delete cascade,
  primary key (piece_id, member_id)
) strict, without rowid;

create table change (
  id integer primary key autoincrement,
  at text not null,
  member_id integer references member (id) on delete set null,
  kind text not null,
  item_id integer not null,
  action text not null check (action in ('insert', 'update', 'delete')),
  version integer,
  fields text not null
) strict;
create index change_item on change (kind, item_id, id);

create table backup_run (
  id integer primary key autoincrement,
  at text not null,
  file text not null,
  bytes integer not null,
  ok integer not null check (ok in (0, 1)),
  message text not null
) strict;

create table photo (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  original_id integer references original (id) on delete cascade,
  piece_id integer references piece (id) on delete cascade,
  part text not null,
  caption text not null,
  credit text not null,
  licence text not null,
  taken_on text,
  file text not null,
  sha256 text not null,
  width integer not null,
  height integer not null,
  bytes integer not null,
  original_bytes integer not null,
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null,
  check ((original_id is null) <> (piece_id is null))
) strict;
create index photo_original on photo (original_id);
create index photo_piece on photo (piece_id);

${columns.join('')}
${logs.join('')}
`
