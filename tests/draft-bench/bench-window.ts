import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'

/** Lays out a new draft at the server of that address; the window stands at its bench. */
export async function beginAt(url: string, page: Page, tablets: number, picks: number): Promise<string> {
  await page.goto(`${url}drafts/new/bench`)
  await page.getByLabel('Title').fill('Fen band')
  await page.getByLabel('Tablets').fill(String(tablets))
  await page.getByLabel('Picks in the repeat').fill(String(picks))
  await page.getByRole('button', { name: 'Lay it out' }).click()
  await page.locator('[role="grid"]').waitFor()
  return page.url()
}

/** What the server keeps of the bench that the window stands at. */
export async function kept(page: Page): Promise<{ document: Draft; version: number; newest: number }> {
  return page.evaluate<never>(`fetch('${page.url().replace(/[?#].*/, '')}/copy.json').then((answer) => answer.json())`)
}

/** It is asked until it is so. */
export const expectKept = (page: Page, picks: readonly string[]) =>
  expect.poll(async () => (await kept(page)).document.picks, { timeout: 6000 }).toEqual(picks)
