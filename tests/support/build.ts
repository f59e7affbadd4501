import { execFileSync } from 'node:child_process'
import { unpackChromium } from './chromium.ts'

/** Pages carry the hashed addresses of the built styles and scripts, so these are made before any test. */
export function setup(): void {
  execFileSync(process.execPath, ['server/build.mjs'], { stdio: 'inherit' })
  unpackChromium()
}
