// What a full citation needs beside the first fields of a source. `other_csl` holds what an imported CSL item says beyond
// them, as a JSON object of CSL variables; nobody typed it here, so it is not in the index of words.
// `source_reference` keeps sources as a style prints them: it can be made anew from the sources at any time.

const TEXTS = [
  ...['editors', 'volume', 'issue', 'publisher', 'place', 'edition', 'issn', 'accessed_on', 'cite_key', 'other_csl'],
]
const BEFORE = ['title', 'people', 'year', 'kind', 'container', 'pages', 'doi', 'isbn', 'url', 'notes']
const LOGGED = [...BEFORE, ...TEXTS, 'owner_id', 'visibility', 'deleted_at']

const at = "strftime('%Y-%m-%dT%H:%M:%fZ', 'now')"
const any = LOGGED.map((column) => `old.${column} is not new.${column}`).join(' or ')
const pairs = LOGGED.map((column) => `select '${column}' as field, old.${column} as before, new.${column} as after`)
const FIELDS = `(select json_group_object(field, json_array(before, after)) from (${pairs.join(' union all ')}) where before is not after)`

const SEARCHED = [
  ...['people', 'year', 'container', 'pages', 'doi', 'isbn', 'url', 'notes', 'editors', 'volume', 'issue'],
  ...['publisher', 'place', 'edition', 'issn', 'cite_key'],
]
const put = (which: string) => `insert into search (rowid, kind, item_id, title, body, own, cited)
    select x.id * 4 + 3, 'source', x.id, x.title, ${SEARCHED.map((column) => `x.${column}`).join(' || char(31) || ')}, '', ''
    from source x where ${which};`
const drop = (id: string) => `delete from search where rowid = ${id} * 4 + 3;`

export const name = '20261128-1035-citation'

export const up = `
${TEXTS.map((column) => `alter table source add column ${column} text not null default '';`).join('\n')}

drop trigger change_source_update;
create trigger change_source_update after update on source when ${any}
begin
  insert into change (at, member_id, kind, item_id, action, version, fields)
    values (${at}, current_member(), 'source', new.id, 'update', new.version, ${FIELDS});
end;

drop trigger search_source_insert;
drop trigger search_source_update;
create trigger search_source_insert after insert on source begin ${put('x.id = new.id')} end;
create trigger search_source_update after update on source begin ${drop('new.id')} ${put('x.id = new.id')} end;

create table source_reference (
  source_id integer not null references source (id) on delete cascade,
  style text not null,
  locator text not null,
  engine text not null,
  source_version integer not null,
  entry text not null,
  citation text not null,
  primary key (source_id, style, locator)
) strict, without rowid;

create table citation_style (
  id integer primary key check (id = 1),
  style text not null
) strict;
`
