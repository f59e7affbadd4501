export const name = '20261124-2250-notebook'

export const up = `
create table source (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  title text not null,
  people text not null,
  year text not null,
  kind text not null,
  container text not null,
  pages text not null,
  doi text not null,
  isbn text not null,
  url text not null,
  notes text not null,
  demo integer not null default 0 check (demo in (0, 1)),
  created_at text not null,
  updated_at text not null
) strict;
create index source_title on source (title collate nocase, id);

create table original (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  name text not null,
  other_names text not null,
  holder text not null,
  inventory_number text not null,
  find_place text not null,
  find_context text not null,
  date_edtf text not null,
  earliest_year integer,
  latest_year integer,
  technique text not null,
  preservation text not null,
  notes text not null,
  demo integer not null default 0 check (demo in (0, 1)),
  created_at text not null,
  updated_at text not null
) strict;
create index original_name on original (name collate nocase, id);

create table draft (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  title text not null,
  notes text not null,
  original_id integer references original (id) on delete set null,
  demo integer not null default 0 check (demo in (0, 1)),
  created_at text not null,
  updated_at text not null
) strict;
create index draft_title on draft (title collate nocase, id);
create index draft_original on draft (original_id);

create table draft_revision (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  draft_id integer not null references draft (id) on delete cascade,
  number integer not null,
  note text not null,
  document text not null,
  tablets integer not null,
  picks integer not null,
  twist_neutral integer not null check (twist_neutral in (0, 1)),
  created_at text not null,
  unique (draft_id, number)
) strict;
create trigger draft_revision_stays before update on draft_revision
begin
  select raise(abort, 'a draft revision is never changed; save a new one');
end;

create table piece (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  name text not null,
  maker text not null,
  for_whom text not null,
  original_id integer references original (id) on delete restrict,
  draft_revision_id integer references draft_revision (id) on delete restrict,
  planned_on text,
  on_loom_on text,
  woven_on text,
  finished_on text,
  set_aside_on text,
  set_aside_reason text not null,
  notes text not null,
  went_wrong text not null,
  demo integer not null default 0 check (demo in (0, 1)),
  created_at text not null,
  updated_at text not null
) strict;
create index piece_name on piece (name collate nocase, id);
create index piece_original on piece (original_id);
create index piece_draft_revision on piece (draft_revision_id);

create table piece_yarn (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  piece_id integer not null references piece (id) on delete cascade,
  position integer not null,
  role text not null,
  yarn text not null,
  count text,
  count_system text not null,
  ply integer not null,
  colour_key text not null
) strict;
create index piece_yarn_piece on piece_yarn (piece_id, position);

create table feature (
  key text primary key,
  label text not null,
  quantity text not null,
  created_at text not null
) strict;

create table claim (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  original_id integer references original (id) on delete cascade,
  piece_id integer references piece (id) on delete cascade,
  feature text not null,
  part text not null,
  kind text not null check (kind in ('value', 'range', 'text', 'readings', 'blank')),
  value text,
  low text,
  high text,
  words text,
  readings text,
  blank text,
  unit text not null,
  n integer,
  u text,
  resolution text,
  state text not null,
  basis text not null,
  claimed_by text not null default '',
  source_id integer references source (id) on delete restrict,
  locator text not null,
  claimed_on text,
  reason text not null,
  corrects_id integer references claim (id) on delete set null,
  working integer not null default 0 check (working in (0, 1)),
  working_reason text not null,
  withdrawn_on text,
  withdrawn_reason text not null,
  created_at text not null,
  check ((original_id is null) <> (piece_id is null)),
  check (working = 0 or withdrawn_on is null)
) strict;
create index claim_original on claim (original_id, feature, part);
create index claim_piece on claim (piece_id, feature, part);
create index claim_source on claim (source_id);
create unique index claim_working_original on claim (original_id, feature, part) where working = 1 and original_id is not null;
create unique index claim_working_piece on claim (piece_id, feature, part) where working = 1 and piece_id is not null;

create table sitting (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  piece_id integer not null references piece (id) on delete cascade,
  maker text not null,
  stage text not null,
  zone text not null,
  day text not null,
  started_at text,
  ended_at text,
  minutes integer not null check (minutes >= 0),
  break_minutes integer not null check (break_minutes >= 0 and break_minutes <= minutes),
  picks integer check (picks >= 0),
  repeats real check (repeats >= 0),
  length_mm real check (length_mm >= 0),
  note text not null,
  version integer not null default 1,
  deleted_at text,
  created_at text not null,
  updated_at text not null,
  check ((started_at is null) = (ended_at is null)),
  check (started_at is null or ended_at >= started_at)
) strict;
create index sitting_piece on sitting (piece_id, day, started_at);
create index sitting_started on sitting (started_at) where started_at is not null;
`
