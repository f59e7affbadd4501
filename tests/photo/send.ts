import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import sharp, { type Sharp } from 'sharp'
import request, { type Test } from 'supertest'
import type { Started } from '../support/start.ts'

export const WORDS = { caption: 'Left border with fringe', part: 'left border', credit: 'R. Oss', licence: 'CC-BY-4.0' }

/** A form with one file as a browser sends it from our own page: the words first, then the file. */
export function sendPhoto(
  { app }: Pick<Started, 'app'>,
  path: string,
  file: Buffer | undefined,
  { fields = WORDS, name = 'IMG_0001.jpg' }: { fields?: Record<string, string>; name?: string } = {},
): Test {
  const test = request(app).post(path).set('Host', 'localhost:4180').set('Origin', 'http://localhost:4180')
  for (const [key, value] of Object.entries(fields)) void test.field(key, value)
  return file === undefined ? test : test.attach('photo', file, { filename: name, contentType: 'image/jpeg' })
}

/** A picture of one colour with a red corner at the top left, so that its turning can be told. */
export async function makeJpeg({ width = 600, height = 400, colour = '#d9ccb4' } = {}): Promise<Buffer> {
  return cornered(width, height, colour).jpeg({ quality: 95 }).toBuffer()
}

export function cornered(width: number, height: number, colour = '#d9ccb4'): Sharp {
  const corner = { create: { width: width / 4, height: height / 4, channels: 3 as const, background: '#ff0000' } }
  const ground = sharp({ create: { width, height, channels: 3, background: colour } })
  return ground.composite([{ input: corner, left: 0, top: 0 }])
}

/** Everything that is kept beside the database: photographs, and what lies half written. */
export function listKept(dataDir: string): string[] {
  return ['photos', 'staging'].flatMap((folder) => {
    try {
      return readdirSync(join(dataDir, folder), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name))
    } catch {
      return []
    }
  })
}
