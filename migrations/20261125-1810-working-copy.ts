// What lies on somebody's bench and is no revision yet: one a draft and member. It is scratch, so neither the log nor the
// search nor an archive knows of it; a backup holds it as it holds all.

export const name = '20261125-1810-working-copy'

export const up = `
create table working_copy (
  id integer primary key autoincrement,
  draft_id integer not null references draft (id) on delete cascade,
  member_id integer references member (id) on delete cascade,
  base_number integer not null,
  version integer not null,
  document text not null,
  saved_at text not null
) strict;
create unique index working_copy_whose on working_copy (draft_id, coalesce(member_id, 0));
create index working_copy_member on working_copy (member_id);
`
