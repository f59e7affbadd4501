import type { Request } from 'express'
import type { Db } from '../db/open.ts'
import { notebookStyle } from './queries.ts'
import { isStyleKey, type StyleKey } from './style.ts'

export const STYLE_COOKIE = 'fellmark-citation'
const REMEMBERED = new RegExp(`(?:^|;\\s*)${STYLE_COOKIE}=([a-z]+)(?:;|$)`)

/** The style that this reader has chosen in this browser, else that of the notebook. */
export function chosenStyle(db: Db, req: Request): StyleKey {
  const remembered = REMEMBERED.exec(req.headers.cookie ?? '')?.[1]
  return isStyleKey(remembered) ? remembered : notebookStyle(db)
}
