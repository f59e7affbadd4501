// Steps at the loom: where the work on a piece stood after each. The place is the step with the latest instant, so a step is
// written once and never changed, and goes with its piece alone. The uid is made by the device that kept the step, so that
// one that is sent twice is one step. A device counts its steps in `seq`; two tabs of one browser may count the same number.

const KEPT = ['uid', 'piece_id', 'device', 'seq', 'kind', 'place', 'at', 'device_at', 'zone', 'received_at', 'note']

export const name = '20261128-1020-loom'

export const up = `
create table loom_step (
  id integer primary key autoincrement,
  uid text not null unique check (length(uid) = 32 and uid not glob '*[^0-9a-f]*'),
  piece_id integer not null references piece (id) on delete cascade,
  draft_revision_id integer references draft_revision (id) on delete set null,
  member_id integer references member (id) on delete set null,
  device text not null check (length(device) = 32 and device not glob '*[^0-9a-f]*'),
  seq integer not null check (seq >= 1),
  kind text not null check (kind in ('woven', 'back', 'unwoven', 'slip', 'pause', 'set')),
  place integer not null check (place >= 0),
  at text not null,
  device_at text not null,
  zone text not null,
  received_at text not null,
  note text not null
) strict;
create index loom_step_place on loom_step (piece_id, at, uid);
create index loom_step_device on loom_step (piece_id, device, seq);
create index loom_step_revision on loom_step (draft_revision_id);
create index loom_step_member on loom_step (member_id);

create trigger loom_step_stays before update on loom_step
when ${KEPT.map((column) => `old.${column} is not new.${column}`).join(' or ')}
  or (old.draft_revision_id is not new.draft_revision_id and new.draft_revision_id is not null)
  or (old.member_id is not new.member_id and new.member_id is not null)
begin
  select raise(abort, 'a step at the loom is never changed: another one corrects it');
end;
create trigger loom_step_is_not_deleted before delete on loom_step when exists (select 1 from piece where id = old.piece_id)
begin
  select raise(abort, 'a step at the loom is never deleted: another one corrects it');
end;

create trigger change_loom_step_insert after insert on loom_step begin
  insert into change (at, member_id, kind, item_id, action, version, fields)
    values (strftime('%Y-%m-%dT%H:%M:%fZ', 'now'), current_member(), 'loom_step', new.id, 'insert', null, '{}');
end;
`
