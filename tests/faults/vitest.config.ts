import { defineConfig, mergeConfig } from 'vitest/config'
import all from '../vitest.config.ts'

/** Every point and not a sample of them: `npm run faults`. */
export default mergeConfig(all, defineConfig({ test: { env: { FAULTS: 'full' } } }))
