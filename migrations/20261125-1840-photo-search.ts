// The words of photographs belong to the original or piece that they are of, so they stand in its row of the index: who
// may see the one may see the other. What is in the bin is not found. The rest is as in 20261124-2300-search.

const KINDS = { original: 0, piece: 1 } as const
type Kind = keyof typeof KINDS

const feature = (c: string) => `coalesce((select f.label from feature f where f.key = ${c}.feature), '')`
const claimText = (c: string) =>
  `trim(${[feature(c), `${c}.part`, `coalesce(${c}.words, '')`, `${c}.claimed_by`, `iif(${c}.source_id is null, ${c}.locator, '')`, `${c}.reason`, `${c}.working_reason`, `${c}.withdrawn_reason`].join(` || ' ' || `)})`
const claims = (key: string) =>
  `coalesce((select char(31) || group_concat(${claimText('c')}, char(31)) from claim c where c.${key} = x.id), '')`
const photos = (key: string) =>
  `coalesce((select char(31) || group_concat(trim(h.caption || ' ' || h.part || ' ' || h.credit), char(31)) from photo h
    where h.${key} = x.id and h.deleted_at is null), '')`
const locators = (key: string) => `coalesce((select group_concat(c.locator, char(31)) from claim c
    where c.${key} = x.id and c.source_id is not null and c.locator <> ''), '')`

const TEXTS: Record<Kind, { body: string; own: string; cited: string }> = {
  original: {
    own: "''",
    cited: locators('original_id'),
    body: `x.other_names || char(31) || x.holder || char(31) || x.inventory_number || char(31) || x.find_place || char(31) ||
      x.find_context || char(31) || x.date_edtf || char(31) || x.technique || char(31) || x.preservation || char(31) || x.notes
      || ${claims('original_id')} || ${photos('original_id')}`,
  },
  piece: {
    own: 'x.for_whom',
    cited: locators('piece_id'),
    body: `x.maker || char(31) || x.notes || char(31) || x.went_wrong || char(31) || x.set_aside_reason
      || coalesce((select char(31) || group_concat(y.role || ' ' || y.yarn, char(31)) from piece_yarn y where y.piece_id = x.id), '')
      || ${claims('piece_id')}
      || coalesce((select char(31) || group_concat(s.note, char(31)) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.note <> ''), '')
      || coalesce((select char(31) || group_concat(distinct s.maker) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.maker <> x.maker), '')
      || ${photos('piece_id')}`,
  },
}

const CHILDREN: readonly { table: string; parent: Kind; key: string }[] = [
  { table: 'claim', parent: 'original', key: 'original_id' },
  { table: 'claim', parent: 'piece', key: 'piece_id' },
  { table: 'piece_yarn', parent: 'piece', key: 'piece_id' },
  { table: 'sitting', parent: 'piece', key: 'piece_id' },
  { table: 'photo', parent: 'original', key: 'original_id' },
  { table: 'photo', parent: 'piece', key: 'piece_id' },
]

const put = (kind: Kind, which: string) => `insert into search (rowid, kind, item_id, title, body, own, cited)
    select x.id * 4 + ${KINDS[kind]}, '${kind}', x.id, x.name, ${TEXTS[kind].body}, ${TEXTS[kind].own}, ${TEXTS[kind].cited}
    from ${kind} x where ${which};`
const drop = (kind: Kind, id: string) => `delete from search where rowid = ${id} * 4 + ${KINDS[kind]};`
const refresh = (kind: Kind, id: string) => `${drop(kind, id)} ${put(kind, `x.id = ${id}`)}`

const kinds = Object.keys(KINDS) as Kind[]

const own = kinds.map(
  (kind) => `
drop trigger search_${kind}_insert;
drop trigger search_${kind}_update;
create trigger search_${kind}_insert after insert on ${kind} begin ${put(kind, 'x.id = new.id')} end;
create trigger search_${kind}_update after update on ${kind} begin ${refresh(kind, 'new.id')} end;`,
)

const children = CHILDREN.map(
  ({ table, parent, key }) => `
drop trigger if exists search_${parent}_${table}_insert;
drop trigger if exists search_${parent}_${table}_update;
drop trigger if exists search_${parent}_${table}_delete;
create trigger search_${parent}_${table}_insert after insert on ${table} when new.${key} is not null begin ${refresh(parent, `new.${key}`)} end;
create trigger search_${parent}_${table}_update after update on ${table} when new.${key} is not null begin ${refresh(parent, `new.${key}`)} end;
create trigger search_${parent}_${table}_delete after delete on ${table} when old.${key} is not null begin ${refresh(parent, `old.${key}`)} end;`,
)

export const name = '20261125-1840-photo-search'

export const up = `
${own.join('')}
${children.join('')}
${kinds.map((kind) => `delete from search where rowid % 4 = ${KINDS[kind]}; ${put(kind, 'true')}`).join('\n')}
`
