/** What a sitting was spent on, in the order of the work. */
export const STAGES = ['study', 'draft', 'sample', 'wind', 'thread', 'weave', 'unweave', 'finish', 'write'] as const
export type Stage = (typeof STAGES)[number]

/** How pages name the stages. */
export const STAGE_LABELS: Readonly<Record<Stage, string>> = {
  study: 'Study',
  draft: 'Draft',
  sample: 'Sample',
  wind: 'Wind the warp',
  thread: 'Thread the tablets',
  weave: 'Weave',
  unweave: 'Unweave',
  finish: 'Finish',
  write: 'Write up',
}
