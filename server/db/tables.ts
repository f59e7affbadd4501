import type { Generated } from 'kysely'
import type { CitationStyleRow, SourceReferenceRow } from './citation-tables.ts'
import type { DraftRevisionRow, DraftRow, WorkingCopyRow } from './draft-tables.ts'
import type { HoursLimitRow, SittingRow, StepsLeftOutRow, TimerRow } from './hours-tables.ts'
import type { DecisionRow, JudgementRow, WeightingRow } from './fidelity-tables.ts'
import type { LoomStepRow } from './loom-tables.ts'
import type { ObservedRow } from './observed-table.ts'
import type { PlanRow, PlanYarnRow, ThreadingTickRow } from './plan-tables.ts'
import type { QuoteTables } from './quote-tables.ts'
import type {
  ApiTokenRow,
  BackupRunRow,
  ChangeRow,
  CoMakerRow,
  KnownDeviceRow,
  MemberRow,
  OneTimeLinkRow,
  PhotoRow,
  RestoreRunRow,
  SessionRow,
  SignInLimitRow,
} from './people-tables.ts'
import type { FibreDensityRow, LotRow, MovementRow, YarnRow } from './yarn-tables.ts'

/** Rows as SQLite keeps them: snake_case, no booleans, days and instants as text. `to…` in each noun renames them. */
export interface Tables extends QuoteTables {
  source: SourceRow
  source_reference: SourceReferenceRow
  citation_style: CitationStyleRow
  original: OriginalRow
  draft: DraftRow
  draft_revision: DraftRevisionRow
  working_copy: WorkingCopyRow
  piece: PieceRow
  piece_yarn: PieceYarnRow
  feature: FeatureRow
  claim: ClaimRow
  sitting: SittingRow
  search: SearchRow
  member: MemberRow
  session: SessionRow
  known_device: KnownDeviceRow
  sign_in_limit: SignInLimitRow
  one_time_link: OneTimeLinkRow
  api_token: ApiTokenRow
  co_maker: CoMakerRow
  change: ChangeRow
  backup_run: BackupRunRow
  restore_run: RestoreRunRow
  photo: PhotoRow
  observed: ObservedRow
  yarn: YarnRow
  lot: LotRow
  movement: MovementRow
  fibre_density: FibreDensityRow
  plan: PlanRow
  plan_yarn: PlanYarnRow
  threading_tick: ThreadingTickRow
  loom_step: LoomStepRow
  steps_left_out: StepsLeftOutRow
  hours_limit: HoursLimitRow
  timer: TimerRow
  judgement: JudgementRow
  decision: DecisionRow
  weighting: WeightingRow
}

/** Of everything that somebody owns and may show to others. */
export interface OwnedColumns {
  /** 32 hex digits, given by the database: the name of the row in every notebook. */
  uid: Generated<string>
  /** Null while the notebook has one lone maker and no members. */
  owner_id: Generated<number | null>
  visibility: Generated<Visibility>
  /** Goes up with every change; a form that was opened on an older one is stale. */
  version: Generated<number>
  /** In the bin since; null while it stands. */
  deleted_at: Generated<string | null>
}

export type Visibility = 'private' | 'members' | 'published'
export type Role = 'keeper' | 'member' | 'guest'

type Flag = Generated<0 | 1>

export interface SourceRow extends OwnedColumns {
  id: Generated<number>
  title: string
  people: string
  year: string
  kind: string
  container: string
  pages: string
  doi: string
  isbn: string
  url: string
  notes: string
  editors: Generated<string>
  volume: Generated<string>
  issue: Generated<string>
  publisher: Generated<string>
  place: Generated<string>
  edition: Generated<string>
  issn: Generated<string>
  accessed_on: Generated<string>
  /** What it is called by in a file of sources. */
  cite_key: Generated<string>
  /** What an imported item says beyond these columns: a JSON object of CSL variables, or empty. */
  other_csl: Generated<string>
  demo: Flag
  created_at: string
  updated_at: string
}

export interface OriginalRow extends OwnedColumns {
  id: Generated<number>
  name: string
  /** One a line. */
  other_names: string
  holder: string
  inventory_number: string
  find_place: string
  find_context: string
  date_edtf: string
  /** Astronomical years (0 is 1 BCE), for sorting; null without a date. */
  earliest_year: number | null
  latest_year: number | null
  technique: string
  preservation: string
  notes: string
  demo: Flag
  created_at: string
  updated_at: string
}

export interface PieceRow extends OwnedColumns {
  id: Generated<number>
  name: string
  maker: string
  for_whom: string
  original_id: number | null
  draft_revision_id: number | null
  planned_on: string | null
  on_loom_on: string | null
  woven_on: string | null
  finished_on: string | null
  set_aside_on: string | null
  set_aside_reason: string
  notes: string
  went_wrong: string
  demo: Flag
  created_at: string
  updated_at: string
}

export interface PieceYarnRow {
  id: Generated<number>
  uid: Generated<string>
  piece_id: number
  position: number
  role: string
  yarn: string
  /** Decimal as typed, in `count_system`; null when not known. */
  count: string | null
  count_system: string
  ply: number
  /** Key of the draft's colours that it weaves; empty when none. */
  colour_key: string
  /** The lot that it came from. */
  lot_id: Generated<number | null>
}

/** A feature that somebody added to the built-in ones. */
export interface FeatureRow {
  /** Null while the notebook has one lone maker and no members. */
  owner_id: Generated<number | null>
  key: string
  label: string
  quantity: string
  created_at: string
}

export interface ClaimRow {
  id: Generated<number>
  uid: Generated<string>
  original_id: number | null
  piece_id: number | null
  feature: string
  /** Which yarn or part it is about; empty for the whole. */
  part: string
  kind: 'value' | 'range' | 'text' | 'readings' | 'blank'
  /** Decimals are kept as typed, so that 13.0 stays 13.0. */
  value: string | null
  low: string | null
  high: string | null
  words: string | null
  /** As typed, in `unit`. */
  readings: string | null
  blank: string | null
  unit: string
  n: number | null
  u: string | null
  resolution: string | null
  state: string
  basis: string
  /** Who saw, measured or inferred it, where a source does not say; empty when not said. */
  claimed_by: Generated<string>
  source_id: number | null
  locator: string
  claimed_on: string | null
  reason: string
  corrects_id: number | null
  working: Flag
  working_reason: string
  withdrawn_on: string | null
  withdrawn_reason: string
  created_at: string
}

/** The FTS5 index, kept by triggers (see migrations). */
export interface SearchRow {
  rowid: Generated<number>
  kind: 'original' | 'piece' | 'draft' | 'source' | 'yarn'
  item_id: number
  title: string
  body: string
  /** For whom a piece is: words that only its makers find it by. */
  own: string
  /** Places in sources: words for who may see all the sources of the thing. */
  cited: string
}
