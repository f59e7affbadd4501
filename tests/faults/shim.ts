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
  | { readonly mode: 'off' | 'count' | 'copy' }
  | { readonly mode: 'kill' | 'term'; readonly at: number }
  | { readonly mode: 'fail'; readonly at: number; readonly error: ErrorName; readonly sticky: boolean }

export interface Shim {
  /** For the program that it is to stand before. */
  readonly env: Readonly<Record<string, string>>
  /** What a power cut would leave, by inode; see `disk.ts`. */
  readonly store: string
  /** In mode `copy` a folder for each call, `1` to `n`, with `disk` and `store` in it. */
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

/** Stands between the program and what it keeps in this folder, from its start on. */
export function layShim(dataDir: string): Shim {
  const own = makeDataDir()
  const [control, store, copies, trace] = ['control', 'store', 'copies', 'trace'].map((name) => join(own, name)) as [
    ...[string, string, string, string],
  ]
  for (const folder of [store, copies]) mkdirSync(folder)
  writeFileSync(trace, '')
  writeFileSync(control, Buffer.alloc(24))
  const paths = { FAULT_DIR: dataDir, FAULT_CONTROL: control, FAULT_STORE: store, FAULT_COPIES: copies }
  const read = (at: number) => readFileSync(control).readInt32LE(at * 4)
  return {
    env: { LD_PRELOAD: buildShim(), UV_USE_IO_URING: '0', ...paths, FAULT_TRACE: trace },
    ...{ store, copies },
    arm: (fault) => {
      const at = 'at' in fault ? fault.at : 0
      const [error, sticky] = fault.mode === 'fail' ? [ERRORS[fault.error], Number(fault.sticky)] : [0, 0]
      const numbers = Buffer.alloc(24)
      for (const [index, number] of [MODES[fault.mode], at, error, sticky, 0, 0].entries())
        numbers.writeInt32LE(number, index * 4)
      // The program looks at the very same bytes, so they are written over and not replaced.
      const handle = openSync(control, 'r+')
      writeSync(handle, numbers, 0, 24, 0)
      closeSync(handle)
    },
    count: () => read(4),
    fired: () => read(5),
    trace: () => readFileSync(trace, 'utf8').split('\n').filter(Boolean),
  }
}
