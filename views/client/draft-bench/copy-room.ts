import type { Left } from './local-copy.ts'

/** Room for large copies, in the browser's own database: they are put away beside the page, which goes on meanwhile. */
export interface CopyRoom<T extends { readonly savedAt: string }> {
  /** @returns false when the browser has no room or allows none */
  put(key: string, copy: T): Promise<boolean>
  remove(key: string): Promise<void>
  /** All whose keys begin so. */
  list(prefix: string): Promise<readonly Left<T>[]>
}

const [NAME, STORE] = ['fellmark bench', 'copies']
/** A database that says nothing for so long is of no use. */
const ANSWER_MS = 3000

export function copyRoom<T extends { readonly savedAt: string }>(): CopyRoom<T> {
  // Some browsers, or some of their settings, allow none; the caller has another place then.
  const opened = open().catch(() => undefined)
  const begin = async (mode: IDBTransactionMode) => {
    const base = await opened
    if (!base) throw new DOMException('no database', 'NotFoundError')
    const transaction = base.transaction(STORE, mode)
    return { transaction, store: transaction.objectStore(STORE) }
  }
  const change = async (work: (store: IDBObjectStore) => unknown) => {
    const { transaction, store } = await begin('readwrite')
    work(store)
    // Told to be whole at once, it is carried through although the page may be gone in a moment.
    transaction.commit()
    await whole(transaction)
  }
  /** Takes away what was told; what was put there since stays. */
  const removeIfStill = async (key: string, savedAt: string) => {
    const { store, transaction } = await begin('readwrite')
    const request = store.get(key) as IDBRequest<T | undefined>
    request.onsuccess = () => {
      if (request.result?.savedAt === savedAt) store.delete(key)
    }
    await whole(transaction)
  }
  return {
    put: (key, copy) =>
      change((store) => store.put(copy, key)).then(
        () => true,
        () => false,
      ),
    // What could not be taken away is offered once more, or seen to be on the server already.
    remove: (key) => change((store) => store.delete(key)).catch(nothing),
    async list(prefix) {
      try {
        const { store, transaction } = await begin('readonly')
        const range = IDBKeyRange.bound(prefix, `${prefix}\uffff`)
        const keys = store.getAllKeys(range) as IDBRequest<string[]>
        const copies = store.getAll(range) as IDBRequest<T[]>
        await whole(transaction)
        return copies.result.map((value, at) => {
          const key = keys.result[at]!
          return { key, value, clear: () => void removeIfStill(key, value.savedAt).catch(nothing) }
        })
      } catch {
        return []
      }
    },
  }
}

const nothing = () => undefined

const whole = (transaction: IDBTransaction): Promise<void> =>
  inTime(
    new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve()
      transaction.onabort = () => reject(transaction.error ?? new DOMException('given up', 'AbortError'))
    }),
  )

function open(): Promise<IDBDatabase> {
  const asked = indexedDB.open(NAME, 1)
  asked.onupgradeneeded = () => void asked.result.createObjectStore(STORE)
  return inTime(
    new Promise((resolve, reject) => {
      asked.onsuccess = () => resolve(asked.result)
      asked.onerror = () => reject(asked.error ?? new DOMException('not opened', 'UnknownError'))
    }),
  )
}

const inTime = <R>(work: Promise<R>): Promise<R> =>
  Promise.race([
    work,
    new Promise<never>((_, reject) =>
      setTimeout(() => reject(new DOMException('too long', 'TimeoutError')), ANSWER_MS),
    ),
  ])
