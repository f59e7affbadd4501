// Hours without book-keeping. Sittings say where they come from: typed by hand, written from the steps at the loom, or timed
// by the running clock. What steps or clock said is kept beside what the maker made of it; no form changes it.

export const name = '20261128-1025-hours'

export const up = `
alter table sitting add column origin text not null default 'hand' check (origin in ('hand', 'steps', 'timer'));
-- The instants of the first and the last step that it was written from.
alter table sitting add column steps_from text;
alter table sitting add column steps_to text;
alter table sitting add column said_stage text;
alter table sitting add column said_started_at text;
alter table sitting add column said_ended_at text;
alter table sitting add column said_break_minutes integer;
alter table sitting add column said_picks integer;
create index sitting_steps on sitting (piece_id, steps_from) where steps_from is not null;

-- Steps that are no work of this piece: somebody tried the page, or showed it to a guest.
create table steps_left_out (
  id integer primary key autoincrement,
  uid text not null unique default (lower(hex(randomblob(16)))),
  piece_id integer not null references piece (id) on delete cascade,
  member_id integer references member (id) on delete set null,
  steps_from text not null,
  steps_to text not null check (steps_to >= steps_from),
  created_at text not null
) strict;
create index steps_left_out_piece on steps_left_out (piece_id);
create index steps_left_out_member on steps_left_out (member_id);

-- How long a gap between steps is a break, and how long a break ends the sitting: of a piece, or else of a maker.
create table hours_limit (
  id integer primary key autoincrement,
  piece_id integer references piece (id) on delete cascade,
  member_id integer references member (id) on delete cascade,
  break_minutes integer not null check (break_minutes >= 1),
  end_minutes integer not null check (end_minutes >= break_minutes),
  check (piece_id is null or member_id is null)
) strict;
create unique index hours_limit_piece on hours_limit (piece_id) where piece_id is not null;
create unique index hours_limit_whose on hours_limit (coalesce(member_id, 0)) where piece_id is null;
create index hours_limit_member on hours_limit (member_id);

-- The one running clock of a maker. Until what it timed is kept as a sitting, or thrown away, there is no other.
create table timer (
  id integer primary key autoincrement,
  piece_id integer not null references piece (id) on delete cascade,
  member_id integer references member (id) on delete cascade,
  stage text not null,
  zone text not null,
  started_at text not null,
  paused_at text,
  paused_seconds integer not null check (paused_seconds >= 0),
  stopped_at text check (stopped_at is null or stopped_at >= started_at)
) strict;
create unique index timer_whose on timer (coalesce(member_id, 0));
create index timer_piece on timer (piece_id);
create index timer_member on timer (member_id);

create trigger change_steps_left_out_insert after insert on steps_left_out begin
  insert into change (at, member_id, kind, item_id, action, version, fields)
    values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'steps_left_out', new.id, 'insert', null, '{}');
end;
create trigger change_steps_left_out_delete after delete on steps_left_out begin
  insert into change (at, member_id, kind, item_id, action, version, fields)
    values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'steps_left_out', old.id, 'delete', null, '{}');
end;
`
