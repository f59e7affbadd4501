// How a draft was written down before it was brought into the frame of the program: '' while nobody has said, 'own' for
// one that was made here, else the answers of its convention card as JSON. And where the publication says it, in words.

const BODY = `x.notes || char(31) || x.convention_note
  || coalesce((select char(31) || group_concat(r.note, char(31)) from draft_revision r where r.draft_id = x.id and r.note <> ''), '')
  || coalesce((select char(31) || group_concat(c.value ->> 'name', ', ') from json_each((select r.document from draft_revision r
    where r.draft_id = x.id order by r.number desc limit 1), '$.colours') c), '')`

/** Row ids of the index are id * 4 + 2 for drafts. */
const refresh = (id: string) => `
  delete from search where rowid = ${id} * 4 + 2;
  insert into search (rowid, kind, item_id, title, body, own, cited)
    select x.id * 4 + 2, 'draft', x.id, x.title, ${BODY}, '', '' from draft x where x.id = ${id};`

const COLUMNS = [
  ...['title', 'notes', 'original_id', 'convention', 'convention_note'],
  ...['owner_id', 'visibility', 'deleted_at'],
]
const anyChanged = COLUMNS.map((column) => `old.${column} is not new.${column}`).join(' or ')
const pairs = COLUMNS.map(
  (column) => `select '${column}' as field, old.${column} as before, new.${column} as after`,
).join(' union all ')

export const name = '20261125-1800-convention'

export const up = `
alter table draft add column convention text not null default ''
  check (convention in ('', 'own') or json_valid(convention));
alter table draft add column convention_note text not null default '';

drop trigger change_draft_update;
create trigger change_draft_update after update on draft when ${anyChanged}
begin
  insert into change (at, member_id, kind, item_id, action, version, fields)
    values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'draft', new.id, 'update', new.version,
      (select json_group_object(field, json_array(before, after)) from (${pairs}) where before is not after));
end;

drop trigger search_draft_insert;
drop trigger search_draft_update;
drop trigger search_draft_draft_revision_insert;
drop trigger search_draft_draft_revision_update;
drop trigger search_draft_draft_revision_delete;
create trigger search_draft_insert after insert on draft begin ${refresh('new.id')} end;
create trigger search_draft_update after update on draft begin ${refresh('new.id')} end;
create trigger search_draft_draft_revision_insert after insert on draft_revision begin ${refresh('new.draft_id')} end;
create trigger search_draft_draft_revision_update after update on draft_revision begin ${refresh('new.draft_id')} end;
create trigger search_draft_draft_revision_delete after delete on draft_revision begin ${refresh('old.draft_id')} end;
`
