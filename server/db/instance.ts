import { join } from 'node:path'
import Database from 'better-sqlite3'
import { refusing } from './notebook.ts'
import { NotebookRefusal } from './open.ts'

/**
 * Makes sure that one server alone works on a folder, by a lock that the system itself drops when the process ends,
 * however it ends. Commands (backup, check) do not take it: they work beside the server.
 * @returns lets go of it
 * @throws NotebookRefusal when another server has it, or nothing can be written there
 */
export function holdInstance(dataDir: string): () => void {
  const file = join(dataDir, 'instance.lock')
  const raw = refusing(file, () => new Database(file, { timeout: 300 }))
  try {
    refusing(file, () => lock(raw, dataDir))
  } catch (error) {
    raw.close()
    throw error
  }
  return () => void raw.close()
}

function lock(raw: Database.Database, dataDir: string): void {
  try {
    raw.exec('begin exclusive')
  } catch (error) {
    if (!(error instanceof Database.SqliteError) || error.code !== 'SQLITE_BUSY') throw error
    throw new NotebookRefusal(
      `Another Fellmark is running on the notebook in ${dataDir}; stop it first, or set DATA_DIR to another folder.`,
    )
  }
}
