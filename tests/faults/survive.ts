import { readdirSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from 'vitest'
import { startServer, type Running } from '../support/server.ts'
import { makeDataDir } from '../support/start.ts'
import { copyFolder, layLax, layStrict, listInodes, readNames, storeAll, type NamedInode } from './disk.ts'
import { layShim, type Shim } from './shim.ts'
import { readState, type State } from './state.ts'
import type { Templates } from './template.ts'
import { isTaken, type Write } from './writes.ts'

export interface Stage {
  readonly dataDir: string
  /** Its inode. */
  readonly root: number
  readonly shim: Shim
  readonly server: Running
}

/** The program behind the shim, on a copy of a folder. */
export async function startBehindShim(template: string): Promise<Stage> {
  const dataDir = makeDataDir()
  copyFolder(template, dataDir)
  const shim = layShim(dataDir)
  storeAll(dataDir, shim.store)
  const server = await startServer({ dataDir, env: shim.env })
  return { dataDir, root: statSync(dataDir).ino, shim, server }
}

/** A folder as a crash left it, with what a power cut would have left. */
export interface Crash {
  readonly disk: string
  readonly store: string
  readonly names: readonly NamedInode[]
  /** Of the folder while the program ran. */
  readonly root: number
}

export const crashOf = ({ dataDir, root, shim }: Stage): Crash => ({
  ...{ disk: dataDir, store: shim.store, names: listInodes(dataDir), root },
})

/** The crash at the n-th call of a run in mode `copy`. */
export function crashAt({ root, shim }: Stage, n: number): Crash {
  const folder = join(shim.copies, String(n))
  const names = readNames(join(folder, 'names'))
  return { disk: join(folder, 'disk'), store: join(folder, 'store'), names, root }
}

/**
 * Opens what `kill -9` left, and both readings of what a power cut left; then all of it goes.
 * @param allowed what the rows may be, whatever the moment
 * @param sessions how many must be signed in; not looked at if left out
 */
export async function expectSurvives(
  { disk, store, names, root }: Crash,
  allowed: readonly string[],
  where: string,
  sessions?: number,
): Promise<void> {
  const own = makeDataDir()
  const [strict, lax] = [join(own, 'strict'), join(own, 'lax')]
  layStrict(store, root, strict)
  layLax(store, names, lax)
  for (const [how, folder] of Object.entries({ 'kill -9': disk, 'a power cut': strict, 'a lax power cut': lax })) {
    const state = await open(folder, `${where}, ${how}`)
    expect(state.faults, `${where}, ${how}`).toEqual([])
    expect(allowed, `${where}, ${how}`).toContain(state.rows)
    if (sessions !== undefined) expect(state.sessions, `${where}, ${how}`).toBe(sessions)
  }
  for (const folder of [own, disk, store]) rmSync(folder, { recursive: true, force: true })
}

async function open(folder: string, where: string): Promise<State> {
  try {
    return await readState(folder)
  } catch (error) {
    throw new Error(`${where}: it does not open again`, { cause: error })
  }
}

export interface Undisturbed {
  readonly stage: Stage
  readonly calls: number
  /** Of them those in whose middle the folder was copied. */
  readonly copied: readonly number[]
  readonly before: string
  readonly after: string
  /** What each call is, from 1: `fsync fellmark.db-wal`. */
  readonly nameOf: (n: number) => string
}

/**
 * One write from its beginning to its answer, with a copy of the folder in the middle of calls; then the program is
 * killed, so that what it acknowledged has to be on the disk.
 */
export async function runUndisturbed(write: Write, given: Templates, chance: () => number): Promise<Undisturbed> {
  const template = given[write.on]
  const stage = await startBehindShim(template)
  const { shim, server } = stage
  const prepared = (await write.prepare?.(server, given)) ?? ''
  const earlier = shim.trace().length
  const each = write.isLong ? 11 : 2
  shim.arm({ mode: 'copy', each, offset: Math.floor(chance() * each) })
  const answer = await write.send(server, given, prepared)
  expect([isTaken(answer), answer.status], `${write.name}: ${await answer.text()}`).toEqual([true, answer.status])
  await server.end('SIGKILL')
  const calls = shim.count()
  const copied = readdirSync(shim.copies).map(Number)
  const trace = shim.trace().slice(earlier)
  const untouched = join(makeDataDir(), 'before')
  copyFolder(template, untouched)
  const { rows: before } = await readState(untouched)
  const ended = crashOf(stage)
  const kept = join(makeDataDir(), 'after')
  copyFolder(stage.dataDir, kept)
  const { rows: after, sessions } = await readState(kept)
  await expectSurvives(ended, [after], `${write.name}, acknowledged`, sessions)
  return { stage, calls, copied, before, after, nameOf: (n) => trace[n - 1] ?? '' }
}

/** The same write with a true `kill -9` in the middle of its n-th call. */
export async function killAt(
  write: Write,
  given: Templates,
  n: number,
): Promise<{ crash: Crash; isAcknowledged: boolean }> {
  const stage = await startBehindShim(given[write.on])
  const { shim, server } = stage
  const prepared = (await write.prepare?.(server, given)) ?? ''
  shim.arm({ mode: 'kill', at: n })
  const answer = await write.send(server, given, prepared).catch(() => undefined)
  if (shim.fired() === 0) void server.end('SIGKILL')
  await server.ended
  return { crash: crashOf(stage), isAcknowledged: answer !== undefined && isTaken(answer) }
}
