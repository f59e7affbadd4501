import type { ExchangeRecord } from './record.ts'

const english = (text: string) => ({ en: [text] })

/** The photographs of a record as a IIIF Presentation 3 manifest: plain pictures, no image server. */
export function toManifest({ uri, name, photos }: ExchangeRecord): Readonly<Record<string, unknown>> {
  return {
    '@context': 'http://iiif.io/api/presentation/3/context.json',
    id: `${uri}/manifest.json`,
    type: 'Manifest',
    label: english(name),
    items: photos.map(({ uri: photo, caption, credit, licence, file, width, height }, at) => {
      const size = { width, height }
      return {
        id: `${photo}#canvas`,
        type: 'Canvas',
        label: english(caption || `Photograph ${at + 1}`),
        ...size,
        // The terms are named by their http address; with https a validator refuses them.
        rights: licence.replace(/^https:/, 'http:'),
        ...(credit === '' ? {} : { requiredStatement: { label: english('Credit'), value: english(credit) } }),
        items: [
          {
            id: `${photo}#page`,
            type: 'AnnotationPage',
            items: [
              {
                ...{ id: `${photo}#painting`, type: 'Annotation', motivation: 'painting', target: `${photo}#canvas` },
                body: { id: file, type: 'Image', format: 'image/jpeg', ...size },
              },
            ],
          },
        ],
      }
    }),
  }
}
