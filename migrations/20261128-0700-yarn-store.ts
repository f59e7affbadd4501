// Yarns, their lots, and the ledger of each lot: mass on hand is the sum of its movements, in whole milligrams, so a
// movement is never changed and never deleted but with its lot. A piece's yarn may name the lot that it came from.
// Yarns stand in the index of words under negative row ids, for the four kinds there take up all the others.

const YARN = ['name', 'blend', 'count', 'count_reading', 'build', 'wraps_per_cm', 'diameter_mm', 'supplier', 'notes']
const LOT = [
  ...['colour_name', 'colour_hex', 'colour_lab', 'dye', 'mordant', 'recipe', 'dyed_by', 'dyed_on', 'lot_number'],
  ...['supplier', 'price_minor', 'price_currency', 'price_for', 'notes', 'deleted_at'],
]
const SHARING = ['owner_id', 'visibility', 'deleted_at']

const at = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')"
const entry = (table: string, row: 'new' | 'old', action: string, fields: string) =>
  `insert into change (at, member_id, kind, item_id, action, version, fields) values (${at}, current_member(), '${table}', ${row}.id, '${action}', ${table === 'movement' ? 'null' : `${row}.version`}, ${fields});`
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

const LOT_WORDS = ['colour_name', 'dye', 'mordant', 'recipe', 'dyed_by', 'lot_number', 'notes']
const ofLots = (words: readonly string[]) =>
  `coalesce((select char(31) || group_concat(trim(${words.map((word) => `l.${word}`).join(" || ' ' || ")}), char(31))
    from lot l where l.yarn_id = x.id and l.deleted_at is null), '')`
const OF_LEDGERS = `coalesce((select char(31) || group_concat(m.note, char(31)) from movement m join lot l on l.id = m.lot_id
    where l.yarn_id = x.id and l.deleted_at is null and m.note <> ''), '')`
const put = (which: string) => `insert into search (rowid, kind, item_id, title, body, own, cited)
    select -x.id, 'yarn', x.id, x.name, x.blend || char(31) || x.count || char(31) || x.notes || ${ofLots(LOT_WORDS)} || ${OF_LEDGERS},
      x.supplier || ${ofLots(['supplier'])}, '' from yarn x where ${which};`
const refresh = (id: string) => `delete from search where rowid = -${id}; ${put(`x.id = ${id}`)}`

export const name = '20261128-0700-yarn-store'

export const up = `
create table yarn (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  name text not null,
  blend text not null,
  count text not null,
  count_reading text not null,
  build text not null,
  wraps_per_cm text,
  diameter_mm text,
  supplier text not null,
  notes text not null,
  demo integer not null default 0 check (demo in (0, 1)),
  owner_id integer references member (id) on delete restrict,
  visibility text not null default 'private' check (visibility in ('private', 'members', 'published')),
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null
) strict;
create index yarn_owner on yarn (owner_id);

create table lot (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  yarn_id integer not null references yarn (id) on delete cascade,
  colour_name text not null,
  colour_hex text not null,
  colour_lab text not null,
  dye text not null,
  mordant text not null,
  recipe text not null,
  dyed_by text not null,
  dyed_on text,
  lot_number text not null,
  supplier text not null,
  price_minor integer check (price_minor >= 0),
  price_currency text not null,
  price_for text not null,
  notes text not null,
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null,
  check ((price_minor is null) = (price_currency = '')),
  check ((price_minor is null) = (price_for = ''))
) strict;
create index lot_yarn on lot (yarn_id);

create table movement (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  lot_id integer not null references lot (id) on delete cascade,
  kind text not null check (kind in ('bought', 'dyed', 'reserved', 'released', 'used', 'returned', 'sample', 'lost', 'stocktake', 'correction')),
  on_day text not null,
  mass_mg integer not null,
  reserved_mg integer not null,
  expected_mg integer,
  found_mg integer,
  piece_id integer references piece (id) on delete set null,
  other_lot_id integer references lot (id) on delete set null,
  corrects_id integer references movement (id) on delete cascade,
  accepted_below integer not null default 0 check (accepted_below in (0, 1)),
  note text not null,
  created_at text not null,
  check ((kind = 'correction') = (corrects_id is not null))
) strict;
create index movement_lot on movement (lot_id);
create index movement_piece on movement (piece_id);
create index movement_other_lot on movement (other_lot_id);
create index movement_corrects on movement (corrects_id);

create trigger movement_stays before update on movement
when old.uid is not new.uid or old.lot_id is not new.lot_id or old.kind is not new.kind or old.on_day is not new.on_day
  or old.mass_mg is not new.mass_mg or old.reserved_mg is not new.reserved_mg or old.expected_mg is not new.expected_mg
  or old.found_mg is not new.found_mg or old.corrects_id is not new.corrects_id
  or old.accepted_below is not new.accepted_below or old.note is not new.note or old.created_at is not new.created_at
  or (old.piece_id is not new.piece_id and new.piece_id is not null)
  or (old.other_lot_id is not new.other_lot_id and new.other_lot_id is not null)
begin
  select raise(abort, 'a movement is never changed: correct it by another one');
end;
create trigger movement_is_not_deleted before delete on movement when exists (select 1 from lot where id = old.lot_id)
begin
  select raise(abort, 'a movement is never deleted: correct it by another one');
end;

alter table piece_yarn add column lot_id integer references lot (id) on delete set null;
create index piece_yarn_lot on piece_yarn (lot_id);
${log('yarn', [...YARN, ...SHARING])}
${log('lot', LOT)}
create trigger change_movement_insert after insert on movement begin ${entry('movement', 'new', 'insert', "'{}'")} end;

create trigger search_yarn_insert after insert on yarn begin ${put('x.id = new.id')} end;
create trigger search_yarn_update after update on yarn begin ${refresh('new.id')} end;
create trigger search_yarn_delete after delete on yarn begin delete from search where rowid = -old.id; end;
create trigger search_yarn_lot_insert after insert on lot begin ${refresh('new.yarn_id')} end;
create trigger search_yarn_lot_update after update on lot begin ${refresh('new.yarn_id')} end;
create trigger search_yarn_lot_delete after delete on lot begin ${refresh('old.yarn_id')} end;
create trigger search_yarn_movement_insert after insert on movement when new.note <> ''
begin
  ${refresh('(select yarn_id from lot where id = new.lot_id)')}
end;
`
