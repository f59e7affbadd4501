// Every word that somebody typed is found. Figures are not words: "84" would find half of the notebook.
// The texts of one row are parted by char(31), which no form lets in, so that an excerpt can show where one ends.

/** Row ids of the index: id * 4 + kind, so that a thing's row can be replaced without looking it up. */
const KINDS = { original: 0, piece: 1, draft: 2, source: 3 } as const
type Kind = keyof typeof KINDS

/**
 * Kind → the SQL expressions of its texts for the row `x` of its table. `body` is for everybody who may see the thing;
 * `own` for who makes it alone; `cited`, the places in sources, for who may see those sources too.
 */
const TEXTS: Record<Kind, { title: string; body: string; own?: string; cited?: string }> = {
  original: {
    title: 'x.name',
    body: `x.other_names || char(31) || x.holder || char(31) || x.inventory_number || char(31) || x.find_place || char(31) ||
      x.find_context || char(31) || x.date_edtf || char(31) || x.technique || char(31) || x.preservation || char(31) || x.notes
      || coalesce((select char(31) || group_concat(${claimText('c')}, char(31)) from claim c where c.original_id = x.id), '')`,
    cited: locators('original_id'),
  },
  piece: {
    title: 'x.name',
    own: 'x.for_whom',
    cited: locators('piece_id'),
    body: `x.maker || char(31) || x.notes || char(31) || x.went_wrong || char(31) || x.set_aside_reason
      || coalesce((select char(31) || group_concat(y.role || ' ' || y.yarn, char(31)) from piece_yarn y where y.piece_id = x.id), '')
      || coalesce((select char(31) || group_concat(${claimText('c')}, char(31)) from claim c where c.piece_id = x.id), '')
      || coalesce((select char(31) || group_concat(s.note, char(31)) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.note <> ''), '')
      || coalesce((select char(31) || group_concat(distinct s.maker) from sitting s where s.piece_id = x.id and s.deleted_at is null and s.maker <> x.maker), '')`,
  },
  draft: {
    title: 'x.title',
    body: `x.notes
      || coalesce((select char(31) || group_concat(r.note, char(31)) from draft_revision r where r.draft_id = x.id and r.note <> ''), '')
      || coalesce((select char(31) || group_concat(c.value ->> 'name', ', ') from json_each((select r.document from draft_revision r
        where r.draft_id = x.id order by r.number desc limit 1), '$.colours') c), '')`,
  },
  source: {
    title: 'x.title',
    body: `x.people || char(31) || x.year || char(31) || x.container || char(31) || x.pages || char(31) || x.doi || char(31) ||
      x.isbn || char(31) || x.url || char(31) || x.notes`,
  },
}

function claimText(c: string): string {
  const feature = `coalesce((select f.label from feature f where f.key = ${c}.feature), '')`
  const texts = [feature, `${c}.part`, `coalesce(${c}.words, '')`]
  texts.push(
    `${c}.claimed_by`,
    `iif(${c}.source_id is null, ${c}.locator, '')`,
    `${c}.reason`,
    `${c}.working_reason`,
    `${c}.withdrawn_reason`,
  )
  return `trim(${texts.join(` || ' ' || `)})`
}

/** Where in their sources the claims found it. */
function locators(key: string): string {
  return `coalesce((select group_concat(c.locator, char(31)) from claim c
    where c.${key} = x.id and c.source_id is not null and c.locator <> ''), '')`
}

/** Children whose text is part of a parent's row. */
const CHILDREN: readonly { table: string; parent: Kind; key: string }[] = [
  { table: 'claim', parent: 'original', key: 'original_id' },
  { table: 'claim', parent: 'piece', key: 'piece_id' },
  { table: 'piece_yarn', parent: 'piece', key: 'piece_id' },
  { table: 'sitting', parent: 'piece', key: 'piece_id' },
  { table: 'draft_revision', parent: 'draft', key: 'draft_id' },
]

function put(kind: Kind, id: string): string {
  const { title, body, own = "''", cited = "''" } = TEXTS[kind]
  return `insert into search (rowid, kind, item_id, title, body, own, cited)
    select x.id * 4 + ${KINDS[kind]}, '${kind}', x.id, ${title}, ${body}, ${own}, ${cited} from ${kind} x where x.id = ${id};`
}
const drop = (kind: Kind, id: string) => `delete from search where rowid = ${id} * 4 + ${KINDS[kind]};`
const refresh = (kind: Kind, id: string) => `${drop(kind, id)} ${put(kind, id)}`

const ownTriggers = (Object.keys(KINDS) as Kind[]).map(
  (kind) => `
create trigger search_${kind}_insert after insert on ${kind} begin ${put(kind, 'new.id')} end;
create trigger search_${kind}_update after update on ${kind} begin ${refresh(kind, 'new.id')} end;
create trigger search_${kind}_delete after delete on ${kind} begin ${drop(kind, 'old.id')} end;`,
)

const childTriggers = CHILDREN.map(
  ({ table, parent, key }) => `
create trigger search_${parent}_${table}_insert after insert on ${table} when new.${key} is not null begin ${refresh(parent, `new.${key}`)} end;
create trigger search_${parent}_${table}_update after update on ${table} when new.${key} is not null begin ${refresh(parent, `new.${key}`)} end;
create trigger search_${parent}_${table}_delete after delete on ${table} when old.${key} is not null begin ${refresh(parent, `old.${key}`)} end;`,
)

export const name = '20261124-2300-search'

export const up = `
create virtual table search using fts5 (
  kind unindexed, item_id unindexed, title, body, own, cited,
  tokenize = "unicode61 remove_diacritics 2", prefix = '2 3'
);
${ownTriggers.join('')}
${childTriggers.join('')}
${(Object.keys(KINDS) as Kind[]).map((kind) => put(kind, 'x.id')).join('\n')}
`
