// Densities of fibres of the maker's own, which count in the place of the built-in ones. Figures as they were typed, one row a
// fibre and owner. The log keeps both values of every column also when a row goes, for there is no bin for it.

const COLUMNS = ['fibre', 'low', 'high', 'source', 'on_day', 'owner_id']
const pairs = (before: (column: string) => string, after: (column: string) => string) =>
  COLUMNS.map((column) => `select '${column}' as field, ${before(column)} as before, ${after(column)} as after`).join(
    ' union all ',
  )
const old = (column: string) => `old.${column}`
const now = (column: string) => `new.${column}`
const entry = (row: 'new' | 'old', action: string, fields: string) =>
  `insert into change (at, member_id, kind, item_id, action, version, fields) values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'fibre_density', ${row}.id, '${action}', ${row}.version, ${fields});`
const changed = (rows: string) =>
  `(select json_group_object(field, json_array(before, after)) from (${rows}) where before is not after)`

export const name = '20261128-1015-fibre-density'

export const up = `
create table fibre_density (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  owner_id integer references member (id) on delete restrict,
  fibre text not null check (fibre <> ''),
  low text not null,
  high text,
  source text not null,
  on_day text not null,
  version integer not null default 1,
  created_at text not null,
  updated_at text not null
) strict;
create unique index fibre_density_whose on fibre_density (coalesce(owner_id, 0), fibre);
create index fibre_density_owner on fibre_density (owner_id);

create trigger change_fibre_density_insert after insert on fibre_density begin ${entry('new', 'insert', "'{}'")} end;
create trigger change_fibre_density_delete after delete on fibre_density
begin
  ${entry('old', 'delete', changed(pairs(old, () => 'null')))}
end;
create trigger change_fibre_density_update after update on fibre_density
when ${COLUMNS.map((column) => `old.${column} is not new.${column}`).join(' or ')}
begin
  ${entry('new', 'update', changed(pairs(old, now)))}
end;
`
