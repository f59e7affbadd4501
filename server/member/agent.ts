const BROWSERS = [
  ['Firefox', /Firefox\//],
  ['Edge', /Edg\//],
  ['Opera', /OPR\//],
  ['Chrome or a relative', /Chrome\//],
  ['Safari', /Safari\//],
] as const

const SYSTEMS = [
  ['an iPhone', /iPhone/],
  ['an iPad', /iPad/],
  ['Android', /Android/],
  ['Windows', /Windows/],
  ['a Mac', /Mac OS X|Macintosh/],
  ['Linux', /Linux|X11/],
] as const

/** A browser as a person would call it, "Firefox on Linux", from what it says of itself. */
export function describeAgent(agent: string): string {
  const named = (list: readonly (readonly [string, RegExp])[]) => list.find(([, sign]) => sign.test(agent))?.[0]
  const browser = named(BROWSERS) ?? 'A browser'
  const system = named(SYSTEMS)
  return system ? `${browser} on ${system}` : browser
}
