import { mergeConfig } from 'vitest/config'
import { MODES } from './support/mode.ts'
import everyTest from './vitest.config.ts'

const BROWSER = ['tests/browser/*.test.ts', 'tests/*/browser.test.ts']

/** Every test in a browser once more, in each of the ways to reach the program; `npm test` has been through the first. And every page with longer words. */
export default mergeConfig(everyTest, {
  test: {
    testTimeout: 120_000,
    projects: [
      ...MODES.slice(1).map((mode) => ({
        extends: true as const,
        test: { name: mode, include: BROWSER, env: { FELLMARK_MODE: mode } },
      })),
      // What is included is added to what the others take, so those are left out again.
      {
        extends: true,
        test: { name: 'longer words', include: ['tests/browser/longer-words.ts'], exclude: ['**/*.test.ts'] },
      },
    ],
  },
})
