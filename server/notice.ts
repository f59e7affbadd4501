import type { Request, Response } from 'express'

/** What was just done, in one sentence, carried over the redirect by its key alone. */
const NOTICES = {
  saved: 'Saved.',
  'sources-kept': 'The sources of the file are in your notebook.',
  'citation-style': 'Sources and claims are cited like this from now on.',
  entered: 'Entered in the ledger.',
  'quote-sent': 'Frozen. This version never changes; the document is yours to send.',
  'quote-copied': 'Copied. This is the new one.',
  'forecast-taken': 'The hours are those of a forecast of today, which is kept with the quote.',
  'forecast-kept': 'Kept. It is held against the hours when the piece is finished.',
  settled: 'Settled. What was planned and what was used stand in the ledgers.',
  'yarns-kept': 'The lots of the table are on your shelf.',
  'density-removed': 'Removed. What it said stands in this form: Save puts it back.',
  deleted: 'In the bin now, for 30 days.',
  restored: 'Taken out of the bin again.',
  'steps-in': 'The steps of the file are in. The place is where the latest step of all says.',
  purged: 'Gone for good.',
  needed: 'Something else still rests on it, so it stays in the bin.',
  approved: 'Approved. It counts in the hours of the piece now.',
  'left-out': 'Left out. It can be taken back below.',
  'restored-steps': 'Taken back. It stands among the proposals again.',
  'backed-up': 'The backup is made, read back and found good.',
  'backup-restored': 'The backup is restored. What was there before is the newest entry of the list below.',
  'copy-gone': 'The working copy is thrown away. Here is the newest revision again.',
  cards: 'Remembered in this browser: the cards of every draft open like this.',
  'backup-deleted': 'The backup is deleted. The notebook itself is as it was.',
  reserved: 'Reserved for this piece, as the plan needs it.',
  'reserved-partly': 'Not all of it could be reserved: see below which lot is short, or somebody else’s.',
  'revision-taken':
    'The borders are written into a new revision, and the piece is on it now. The reversals stand in the draft.',
  revision: 'Saved as a new revision; the earlier ones stay as they were.',
  working: 'This is the working value now.',
  shared: 'Saved who may see this.',
  'co-maker': 'Added. You make this piece together now.',
  'co-maker-gone': 'Removed. Nothing that they wrote is lost.',
  withdrawn: 'Withdrawn. It stays on record with its reason.',
  'signed-out': 'You are signed out.',
  welcome: 'Welcome. You are signed in.',
  'first-member': 'You keep this notebook now, and all that is in it is yours. From now on everybody signs in.',
  role: 'The role is changed, at once.',
  left: 'The membership has ended; nothing of it signs in any more.',
  'invitation-withdrawn': 'The invitation does not open anything any more.',
  password: 'The new password holds. Every other browser is signed out.',
  'password-tokens':
    'The new password holds. Every other browser is signed out, and your tokens for programs have ended: make new ones on your account’s page.',
  sessions: 'Signed out there.',
  'token-ended': 'The token does not open anything any more.',
  'demo-loaded': 'The demo collection is in your notebook. Remove it again whenever you like.',
  'demo-removed': 'The demo collection is gone.',
  'demo-kept': 'The demo collection is gone, but for what your own work uses: that is yours now.',
} as const
export type NoticeKey = keyof typeof NOTICES

export function noticeOf(req: Request): string {
  const key = req.query.done
  return typeof key === 'string' && Object.hasOwn(NOTICES, key) ? NOTICES[key as NoticeKey] : ''
}

/** Redirects after a write (303), below the public base path, with what to say there. */
export function seeOther(res: Response, path: string, done?: NoticeKey): void {
  const [address = path, fragment] = path.split('#')
  const query = done ? `${address.includes('?') ? '&' : '?'}done=${done}` : ''
  res.redirect(303, `${String(res.locals.base ?? '')}${address}${query}${fragment ? `#${fragment}` : ''}`)
}
