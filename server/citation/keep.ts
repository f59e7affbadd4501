import type { RequestHandler } from 'express'
import { isPaused } from '../backup/restore.ts'
import { askCitation } from '../cite-thread.ts'
import type { Db } from '../db/open.ts'
import { keepPrinted, listDue } from './queries.ts'

/** Prints what is due, and goes on until nothing is. */
export interface ReferenceKeeper {
  /** Resolves when all is printed, or after a moment: nobody waits long for a reference. */
  bringUpToDate(mostMs?: number): Promise<void>
}

/** How long a form that was sent waits for its reference. */
const MOST_MS = 1_500

/** Keeps references beside their sources: made when a source is saved, made anew when styles or engine change. */
export function keepReferences(db: Db, onBroken: (error: unknown) => void): ReferenceKeeper {
  let running: Promise<void> | undefined

  async function run(): Promise<void> {
    // What cannot be printed would be due for ever: a second try in a row ends the run.
    let last = ''
    for (let due = listDue(db); due.length > 0; due = listDue(db)) {
      const names = JSON.stringify(due.map(({ sourceId, style, version }) => [sourceId, style, version]))
      if (names === last) throw new Error(`References stay due: ${names.slice(0, 200)}`)
      last = names
      const [first] = due
      if (!first) return
      const jobs = due.map(({ item, locators }) => ({ item, locators }))
      const printed = await askCitation({ kind: 'print', style: first.style, jobs })
      if (!db.raw.open || isPaused(db)) return
      keepPrinted(db, due, printed)
    }
  }

  return {
    async bringUpToDate(mostMs = MOST_MS) {
      running ??= run()
        .catch((error: unknown) => {
          if (db.raw.open) onBroken(error)
        })
        .finally(() => (running = undefined))
      let timer: NodeJS.Timeout | undefined
      const late = new Promise<void>((resolve) => {
        timer = setTimeout(resolve, mostMs)
        timer.unref()
      })
      await Promise.race([running, late])
      clearTimeout(timer)
    },
  }
}

/** After every form that was taken, for claims, archives and the bin change what is cited too. */
export function printAfterChanges(references: ReferenceKeeper | undefined): RequestHandler {
  return (req, res, next) => {
    if (references && req.method === 'POST') res.once('finish', () => void references.bringUpToDate())
    next()
  }
}
