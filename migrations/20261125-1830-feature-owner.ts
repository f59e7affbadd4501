// Whose a feature of somebody's own making is. Of those from before nobody knows any more; so they go to whoever has
// the oldest claim that speaks of them, or else to the first keeper. In a notebook of one maker they have no owner, as all.

export const name = '20261125-1830-feature-owner'

export const up = `
alter table feature add column owner_id integer references member (id) on delete restrict;
update feature set owner_id = coalesce(
  (select coalesce(o.owner_id, p.owner_id) from claim c left join original o on o.id = c.original_id
    left join piece p on p.id = c.piece_id where c.feature = feature.key and coalesce(o.owner_id, p.owner_id) is not null
    order by c.id limit 1),
  (select id from member where role = 'keeper' and left_at is null order by id limit 1));
create index feature_owner on feature (owner_id);
create index claim_feature on claim (feature);
`
