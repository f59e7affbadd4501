/** How the program is reached, of the ways that people set it up: this machine, a local network, a proxy, a path of it. */
export const MODES = ['loopback', 'lan', 'https', 'sub-path'] as const
export type Mode = (typeof MODES)[number]

/** The one mode that every browser test is to run in, where `npm run modes` says one. */
export const wantedMode = (): Mode | undefined => MODES.find((mode) => mode === process.env.FELLMARK_MODE)

/** Some tests run in modes of their own choice, unless all are to run in one. */
export function modesOf(own: readonly Mode[]): readonly Mode[] {
  const wanted = wantedMode()
  return wanted === undefined ? own : [wanted]
}
