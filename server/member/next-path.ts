/** Where to go after signing in: an address of this notebook, below its base path; anything else is the first page. */
export function readNextPath(text: unknown): string {
  if (typeof text !== 'string' || text.length > 2000 || !/^\/(?![/\\])[^\\\u0000-\u0020\u007f]*$/.test(text)) return '/'
  const here = 'http://notebook.invalid'
  if (!URL.canParse(text, here)) return '/'
  const url = new URL(text, here)
  // "/.//example.org" becomes a path with two slashes in front, which a browser would take for another host.
  return url.origin === here && !url.pathname.startsWith('//') ? url.pathname + url.search + url.hash : '/'
}
