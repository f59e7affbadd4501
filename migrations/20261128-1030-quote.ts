// Forecasts that were kept, to be held against what it took; quotes, with every version that was sent; and what a maker keeps
// for all of their quotes. All three are their owner's alone. A forecast, and a version that was sent, never change; a quote
// that was sent keeps its number and cannot go, but for the demo collection.
// What is typed stands as one JSON object of texts, field by field; the log takes the fields that differ, by their names.

const logged = (table: string, more: readonly string[]) => {
  const rows = [
    `select o.key as field, o.value as before, n.value as after from json_each(old.entered) o
      join json_each(new.entered) n on n.key = o.key`,
    `select n.key, null, n.value from json_each(new.entered) n
      where not exists (select 1 from json_each(old.entered) o where o.key = n.key)`,
    ...more.map((column) => `select '${column}', old.${column}, new.${column}`),
  ].join(' union all ')
  const entry = (row: 'new' | 'old', action: string, fields: string) =>
    `insert into change (at, member_id, kind, item_id, action, version, fields) values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), '${table}', ${row}.id, '${action}', ${row}.version, ${fields});`
  const differs = ['entered', ...more].map((column) => `old.${column} is not new.${column}`).join(' or ')
  return `
create trigger change_${table}_insert after insert on ${table} begin ${entry('new', 'insert', "'{}'")} end;
create trigger change_${table}_delete after delete on ${table} begin ${entry('old', 'delete', "'{}'")} end;
create trigger change_${table}_update after update on ${table} when ${differs}
begin
  ${entry('new', 'update', `(select json_group_object(field, json_array(before, after)) from (${rows}) where before is not after)`)}
end;
`
}

export const name = '20261128-1030-quote'

export const up = `
create table forecast (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  owner_id integer references member (id) on delete restrict,
  piece_id integer references piece (id) on delete cascade,
  draft_revision_id integer references draft_revision (id) on delete cascade,
  kind text not null check (kind in ('remaining', 'whole')),
  made_on text not null,
  made_at text not null,
  done_minutes integer not null check (done_minutes >= 0),
  low_minutes integer not null check (low_minutes >= 0),
  likely_minutes integer not null check (likely_minutes >= low_minutes),
  high_minutes integer not null check (high_minutes >= likely_minutes),
  stages text not null check (json_valid(stages)),
  base text not null,
  kept_by text not null check (kept_by in ('button', 'quote')),
  demo integer not null default 0 check (demo in (0, 1)),
  check (piece_id is not null or draft_revision_id is not null),
  check (kind = 'whole' or piece_id is not null)
) strict;
create index forecast_owner on forecast (owner_id);
create index forecast_piece on forecast (piece_id);
create index forecast_revision on forecast (draft_revision_id);

create trigger forecast_stays before update of uid, kind, made_on, made_at, done_minutes, low_minutes, likely_minutes,
  high_minutes, stages, base, kept_by on forecast
begin
  select raise(abort, 'a forecast is never changed');
end;

create table quote (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  owner_id integer references member (id) on delete restrict,
  piece_id integer references piece (id) on delete set null,
  draft_revision_id integer references draft_revision (id) on delete set null,
  forecast_id integer references forecast (id) on delete set null,
  entered text not null check (json_valid(entered)),
  state text not null check (state in ('draft', 'sent', 'accepted', 'declined', 'lapsed', 'withdrawn')),
  number_year integer,
  number_serial integer check (number_serial > 0),
  answered_on text,
  demo integer not null default 0 check (demo in (0, 1)),
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null,
  check ((number_year is null) = (number_serial is null)),
  check ((state = 'draft') = (number_serial is null)),
  check ((answered_on is null) = (state in ('draft', 'sent')))
) strict;
create unique index quote_number on quote (coalesce(owner_id, 0), number_year, number_serial) where number_serial is not null;
create index quote_owner on quote (owner_id);
create index quote_piece on quote (piece_id);
create index quote_revision on quote (draft_revision_id);
create index quote_forecast on quote (forecast_id);

create table quote_version (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  quote_id integer not null references quote (id) on delete cascade,
  number integer not null check (number > 0),
  sent_on text not null,
  sent_at text not null,
  entered text not null check (json_valid(entered)),
  paper text not null check (json_valid(paper)),
  unique (quote_id, number)
) strict;

create trigger quote_version_stays before update on quote_version
begin
  select raise(abort, 'a version of a quote that was sent is never changed');
end;
create trigger quote_version_kept before delete on quote_version
when exists (select 1 from quote where id = old.quote_id)
begin
  select raise(abort, 'a version of a quote that was sent is never deleted');
end;
create trigger quote_number_stays before update of number_year, number_serial on quote
when old.number_serial is not null
  and (old.number_year is not new.number_year or old.number_serial is not new.number_serial)
begin
  select raise(abort, 'the number of a quote never changes');
end;
create trigger quote_sent_stands before update of deleted_at on quote
when new.deleted_at is not null and old.number_serial is not null
begin
  select raise(abort, 'a quote that was sent can only be withdrawn');
end;
create trigger quote_sent_kept before delete on quote when old.number_serial is not null and old.demo = 0
begin
  select raise(abort, 'a quote that was sent can only be withdrawn');
end;

create table quote_terms (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  owner_id integer references member (id) on delete restrict,
  entered text not null check (json_valid(entered)),
  version integer not null default 1,
  created_at text not null,
  updated_at text not null
) strict;
create unique index quote_terms_whose on quote_terms (coalesce(owner_id, 0));
create index quote_terms_owner on quote_terms (owner_id);
${logged('quote', ['state', 'answered_on', 'piece_id', 'deleted_at'])}
${logged('quote_terms', [])}
`
