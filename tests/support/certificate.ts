import { createHash, X509Certificate } from 'node:crypto'
import { generate } from 'selfsigned'

export interface Certificate {
  readonly cert: string
  readonly key: string
  /** By this the browser of the tests knows it and takes it for a good one; no other is taken. */
  readonly fingerprint: string
}

let made: Promise<Certificate> | undefined

/** For every name below `.test`; made once, for ten days. */
export const certificate = (): Promise<Certificate> => (made ??= make())

async function make(): Promise<Certificate> {
  const { cert, private: key } = await generate([{ name: 'commonName', value: '*.bands.test' }], {
    ...{ keyType: 'ec', algorithm: 'sha256', notAfterDate: new Date(Date.now() + 10 * 86_400_000) },
    extensions: [{ name: 'subjectAltName', altNames: [{ type: 2, value: '*.bands.test' }] }],
  })
  const spki = new X509Certificate(cert).publicKey.export({ type: 'spki', format: 'der' })
  return { cert, key, fingerprint: createHash('sha256').update(spki).digest('base64') }
}
