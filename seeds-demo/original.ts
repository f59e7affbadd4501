import { brackholm } from './original/brackholm.ts'
import { drennet } from './original/drennet.ts'
import { kelderhow } from './original/kelderhow.ts'
import { saltwithy } from './original/saltwithy.ts'
import { tessary } from './original/tessary.ts'
import type { Original } from './type.ts'

/** All of them are invented; see `scenario.ts`. */
export const originals: readonly Original[] = [saltwithy, kelderhow, drennet, tessary, brackholm]
