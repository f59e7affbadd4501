import type { Db } from '../server/db/open.ts'

export function loadDemo(_db: Db, _now: Date): void {}
