// A restore takes the log of changes back with everything else, so what was restored, when and by whom is kept aside and
// carried over; its trigger tells the log, where everybody looks. Who it was stands there by name: the members are those
// of the backup.
export const name = '20261125-1850-restore-run'

export const up = `
create table restore_run (
  id integer primary key autoincrement,
  at text not null,
  by_name text not null,
  backup_at text not null,
  safety text not null
) strict;
create trigger change_restore_run after insert on restore_run begin
  insert into change (at, member_id, kind, item_id, action, version, fields)
  values (new.at, null, 'notebook', 0, 'update', null,
    json_object('restored', json_array(new.safety, new.backup_at), 'by', json_array('', new.by_name)));
end;
`
