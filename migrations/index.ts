import * as notebook from './20261124-2250-notebook.ts'
import * as search from './20261124-2300-search.ts'
import * as people from './20261125-0000-people.ts'
import * as convention from './20261125-1800-convention.ts'
import * as workingCopy from './20261125-1810-working-copy.ts'
import * as featureOwner from './20261125-1830-feature-owner.ts'
import * as photoSearch from './20261125-1840-photo-search.ts'
import * as restoreRun from './20261125-1850-restore-run.ts'
import * as observed from './20261125-1855-observed.ts'
import * as yarnStore from './20261128-0700-yarn-store.ts'
import * as plan from './20261128-0705-plan.ts'
import * as fibreDensity from './20261128-1015-fibre-density.ts'
import * as loom from './20261128-1020-loom.ts'
import * as hours from './20261128-1025-hours.ts'
import * as quote from './20261128-1030-quote.ts'
import * as citation from './20261128-1035-citation.ts'
import * as fidelity from './20261128-1040-fidelity.ts'

/** In order; append only. A folder scan would not survive bundling, and would run a stray file. */
export const migrations = [
  notebook,
  search,
  people,
  convention,
  workingCopy,
  featureOwner,
  photoSearch,
  restoreRun,
  observed,
  yarnStore,
  plan,
  fibreDensity,
  loom,
  hours,
  quote,
  citation,
  fidelity,
]
