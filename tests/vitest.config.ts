import { fileURLToPath } from 'node:url'
import { configDefaults, defineConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** What takes longest begins first, or one worker would be busy with it long after the other has nothing to do. */
const LONG = ['faults/', 'browser/', 'archive/round-trip', 'backup/', 'rights/matrix', 'browser.test']

const TAKES_MINUTES = ['tests/load/*.test.ts']

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const at = LONG.findIndex((part) => moduleId.includes(`/tests/${part}`) || moduleId.endsWith(`/${part}.ts`))
      return at === -1 ? LONG.length : at
    }
    return (await super.sort(files)).sort((left, right) => rank(left) - rank(right))
  }
}

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['tests/**/*.test.ts'],
    // What takes minutes has a command of its own. `npm run corpus` and `npm run faults` take all of what is a sample here.
    exclude: process.env.LONG === 'yes' ? [] : [...configDefaults.exclude, ...TAKES_MINUTES],
    env: { TZ: 'Europe/Berlin' },
    globalSetup: ['tests/support/build.ts'],
    // A worker loads the program once and not once a file, which took a quarter of the whole time. So nothing that a test
    // file changes may outlive it: folders and databases are cleared away by the set-up file, after every file.
    isolate: false,
    setupFiles: ['tests/support/clear-away.ts'],
    sequence: { sequencer: LongestFirst },
    maxWorkers: 2,
    testTimeout: 30_000,
    hookTimeout: 60_000,
  },
})
