import { execFileSync } from 'node:child_process'
import { closeSync, mkdirSync, openSync, readFileSync, renameSync, statSync, writeFileSync, writeSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { makeDataDir } from '../support/start.ts'

const SOURCE = fileURLToPath(new URL('shim.c', import.meta.url))
const CACHE = fileURLToPath(new URL('../../node_modules/.cache/faults', import.meta.url))

/** Built where it is older than its source. @throws Error with a sentence where there is no compiler */
function buildShim(): string {
  const shim = join(CACHE, 'shim.so')
  try {
    if (statSync(shim).mtimeMs > statSync(SOURCE).mtimeMs) return shim
  } catch {
    // Not built yet.
  }
  mkdirSync(CACHE, { recursive: true })
  // Two test files may build it at once.
  const own = join(CACHE, `shim-${process.pid}.so`)
  try {
    execFileSync('gcc', ['-O1', '-w', '-shared', '-fPIC', '-o', own, SOURCE, '-ldl', '-lpthread'], { stdio: 'pipe' })
  } catch (error) {
    const isMissing = (error as NodeJS.ErrnoException).code === 'ENOENT'
    const why = isMissing ? 'There is no gcc on this machine' : `gcc does not build it: ${String(error)}`
    throw new Error(`The tests of faults need Linux, glibc and gcc to build tests/faults/shim.c. ${why}.`)
  }
  renameSync(own, shim)
  return shim
}

const MODES = { off: 0, count: 1, kill: 2, fail: 3, term: 4, copy: 5 } as const
/** Linux's own numbers. */
export const ERRORS = { EIO: 5, ENOSPC: 28 } as const
export type ErrorName = keyof typeof ERRORS

export type Fault =
  | { readonly mode: 'off' | 'count' }
  /** At call `each - offset` and every `each` calls from there. */
  | { readonly mode: 'copy'; readonly each: number; readonly offset: number }
  | { readonly mode: 'kill' | 'term'; readonly at: number }
  | { readonly mode: 'fail'; readonly at: number; readonly error: ErrorName; readonly sticky: boolean }
  /** At the first call that has this in it, such as `fsync fellmark.db-wal`; a line end comes behind the name. */
  | { readonly mode: 'fail'; readonly first: string; readonly error: ErrorName; readonly sticky: boolean }

export interface Shim {
  /** For the program that it is to stand before. */
  readonly env: Readonly<Record<string, string>>
  /** What a power cut would leave, by inode; see `disk.ts`. */
  readonly store: string
  /** In mode `copy` a folder for each call that was copied, named by its number, with `disk` and `store` in it. */
  readonly copies: string
  /** Counts anew from here on. */
  arm(fault: Fault): void
  /** How many calls have changed the disk since. */
  count(): number
  /** The call that the fault fell upon; 0 when it has not come. */
  fired(): number
  /** `create fellmark.db-wal`, …: the calls in their order, all of them since the start. */
  trace(): readonly string[]
}

/** Six numbers, and a text of up to 63 bytes. */
const BYTES = 24 + 64

/** The call, the error, whether it stays; of copies how far apart they are, and where they begin. */
function settingsOf(fault: Fault): readonly [number, number, number] {
  if (fault.mode === 'copy') return [fault.each, 0, fault.offset]
  if (fault.mode === 'fail') return ['at' in fault ? fault.at : 0, ERRORS[fault.error], Number(fault.sticky)]
  return ['at' in fault ? fault.at : 0, 0, 0]
}

/** Stands between the program and what it keeps in this folder, from its start on. */
export function layShim(dataDir: string): Shim {
  const own = makeDataDir()
  const [controlFile, store, copies, trace] = ['control', 'store', 'copies', 'trace'].map((name) =>
    join(own, name),
  ) as [...[string, string, string, string]]
  for (const folder of [store, copies]) mkdirSync(folder)
  writeFileSync(trace, '')
  writeFileSync(controlFile, Buffer.alloc(BYTES))
  const paths = { FAULT_DIR: dataDir, FAULT_CONTROL: controlFile, FAULT_STORE: store, FAULT_COPIES: copies }
  const read = (at: number) => readFileSync(controlFile).readInt32LE(at * 4)
  return {
    env: { LD_PRELOAD: buildShim(), UV_USE_IO_URING: '0', ...paths, FAULT_TRACE: trace },
    ...{ store, copies },
    arm: (fault) => {
      const control = Buffer.alloc(BYTES)
      for (const [index, number] of [MODES[fault.mode], ...settingsOf(fault), 0, 0].entries())
        control.writeInt32LE(number, index * 4)
      if ('first' in fault) control.write(fault.first, 24)
      // The program looks at the very same bytes, so they are written over and not replaced.
      const handle = openSync(controlFile, 'r+')
      writeSync(handle, control, 0, BYTES, 0)
      closeSync(handle)
    },
    count: () => read(4),
    fired: () => read(5),
    trace: () => readFileSync(trace, 'utf8').split('\n').filter(Boolean),
  }
}
