/** A source as a style prints it; made by the engine, and made anew when source, style or engine change. */
export interface SourceReferenceRow {
  source_id: number
  style: string
  /** As it stands on claims; empty for the source as a whole. */
  locator: string
  /** Which engine and styles made it. */
  engine: string
  source_version: number
  /** HTML of the engine, not yet sanitised. Of the bibliography; empty where there is a locator. */
  entry: string
  /** HTML of the engine, not yet sanitised. */
  citation: string
}

/** In which style the notebook cites, where a reader has not chosen: one row, or none. */
export interface CitationStyleRow {
  id: number
  style: string
}
