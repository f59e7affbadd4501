/** Where a sitting comes from: typed by hand, written from the steps at the loom, or timed by the running clock. */
export const ORIGINS = ['hand', 'steps', 'timer'] as const
export type Origin = (typeof ORIGINS)[number]

/** How pages and tables name them. */
export const ORIGIN_LABELS: Readonly<Record<Origin, string>> = {
  hand: 'by hand',
  steps: 'from the steps',
  timer: 'by the clock',
}
