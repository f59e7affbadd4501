import { defineConfig, mergeConfig } from 'vitest/config'
import all from '../vitest.config.ts'

/** Many points and not a few of each kind: `npm run faults`. */
export default mergeConfig(all, defineConfig({ test: { env: { FAULTS: 'full' } } }))
