import { afterAll } from 'vitest'
import { opened } from './opened.ts'

// The runner begins this anew before every test file, so it comes after whatever the file itself does last.
afterAll(async () => {
  for (const close of opened.splice(0).reverse()) await close()
})
