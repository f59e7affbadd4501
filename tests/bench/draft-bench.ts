import { createServer } from 'node:http'
import { loadavg, tmpdir } from 'node:os'
import type { Page } from 'playwright-core'
import { createApp } from '../../server/app.ts'
import type { Db } from '../../server/db/open.ts'
import { insertDraft } from '../../server/draft/queries.ts'
import { createPages } from '../../server/pages.ts'
import { benchOf } from '../../shared/draft/edit/bench.ts'
import { followEdit, startLiveWeave } from '../../shared/draft/edit/live-weave.ts'
import { turnOver } from '../../shared/draft/edit/turn-edit.ts'
import { weave } from '../../shared/draft/weave.ts'
import { launchChromium, unpackChromium } from '../support/chromium.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { takeTurns, tell } from './measure.ts'

const ROUNDS = 21
const AT = '2026-11-24T12:00:00.000Z'
/** What a screen of 60 pictures a second leaves for one. */
const FRAME_MS = 1000 / 60

/** The draft bench: weaving only what changed, and what an edit costs in a real browser, drawing included. */
export async function benchDraftBench(db: Db): Promise<void> {
  console.log(`Draft bench: one turn changed, medians of n = ${ROUNDS} rounds`)
  for (const [tablets, picks] of SIZES) await benchFollowing(tablets, picks)
  unpackChromium()
  const browser = await launchChromium()
  const { origin, close } = await serve(db)
  try {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
    console.log(
      `In Chromium ${browser.version()}, 1280 px: face, reverse, turns and twist shown; n = ${ROUNDS} edits each; ` +
        `load ${loadavg()[0]!.toFixed(1)}`,
    )
    for (const [tablets, picks] of SIZES) {
      const draft = { ...makeBenchDraft(tablets, picks), title: `${tablets} x ${picks}` }
      const { id } = insertDraft(db, { draft, notes: '', originalId: undefined }, AT)
      const page = await context.newPage()
      await page.goto(`${origin}/drafts/${id}/bench`)
      await page.locator('[role="grid"]').waitFor({ timeout: 60_000 })
      await page.waitForTimeout(2500)
      await timeEdits(page, `${tablets} x ${picks}, a turn at pick 1`, false)
      await timeEdits(page, `${tablets} x ${picks}, all turns of pick 1`, true)
      await page.close()
    }
  } finally {
    await browser.close()
    close()
  }
}

const SIZES = [
  [60, 200],
  [400, 2000],
] as const

async function benchFollowing(tablets: number, picks: number): Promise<void> {
  const bench = benchOf(makeBenchDraft(tablets, picks))
  const live = startLiveWeave(bench)
  const edit = turnOver(bench, { tablets: [tablets >> 1], from: 0, to: 0 })
  const { whole, followed } = await takeTurns(
    {
      whole: { run: () => weave({ ...bench, picks: [] }, bench.turning) },
      followed: { run: () => followEdit(live, bench, edit), times: 1 },
    },
    ROUNDS,
  )
  tell(`${tablets} x ${picks}, woven anew`, whole)
  tell(
    'only what a turn at pick 1 changes',
    followed,
    `woven anew takes ${(whole / followed).toFixed(0)} times as long`,
  )
}

/**
 * From the key to the drawn picture: the handling of the key, and the drawing in the frame after it (our own callback of
 * that frame comes after the page's). Beside it what the page's thread computed until that frame was painted: on a busy
 * machine the clock tells of the others too.
 */
async function timeEdits(page: Page, what: string, wholePick: boolean): Promise<void> {
  const devtools = await page.context().newCDPSession(page)
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' })
  const computed = async () =>
    1000 * (await devtools.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration')!.value
  await page.evaluate(`(async () => {
    const grid = document.querySelector('[role="grid"]')
    const press = (key, shiftKey = false, ctrlKey = false) =>
      grid.dispatchEvent(new KeyboardEvent('keydown', { key, shiftKey, ctrlKey, bubbles: true, cancelable: true }))
    press('Home', false, true)
    ${wholePick ? "for (let at = 1; at < Number(grid.getAttribute('aria-rowcount')); at++) press('ArrowDown', true)" : ''}
    await new Promise((resolve) => setTimeout(resolve, 500))
    window.timeEdit = () => {
      const before = performance.now()
      press('Enter')
      const handled = performance.now() - before
      // The page asked for its frame first, so this callback runs when it has drawn; the message comes after the paint.
      return new Promise((resolve) => requestAnimationFrame((began) => {
        const took = handled + performance.now() - began
        const { port1, port2 } = new MessageChannel()
        port1.onmessage = () => resolve(took)
        port2.postMessage(0)
      }))
    }
  })()`)
  const times: number[] = []
  const costs: number[] = []
  for (let round = 0; round < ROUNDS; round++) {
    const before = await computed()
    times.push(await page.evaluate<number>('timeEdit()'))
    costs.push((await computed()) - before)
    await page.waitForTimeout(120)
  }
  for (const taken of [times, costs]) taken.sort((a, b) => a - b)
  const spread = (taken: readonly number[]) =>
    `p95 ${taken[Math.ceil(taken.length * 0.95) - 1]!.toFixed(1)}, slowest ${taken.at(-1)!.toFixed(1)} ms`
  const [median, cost] = [times[times.length >> 1]!, costs[costs.length >> 1]!]
  tell(what, median, spread(times), `${(median / FRAME_MS).toFixed(2)} x a frame of 1/60 s`)
  tell('  computed by the page until painted', cost, spread(costs))
}

async function serve(db: Db): Promise<{ origin: string; close: () => void }> {
  const app = createApp({
    ...{
      db,
      dataDir: tmpdir(),
      isLoopback: true,
      page: createPages(''),
      now: () => new Date(AT),
      zone: 'Europe/Berlin',
    },
    onBroken: (error) => {
      throw error
    },
  })
  const server = createServer(app)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as { port: number }
  return {
    origin: `http://127.0.0.1:${port}`,
    close: () => {
      server.closeAllConnections()
      server.close()
    },
  }
}
