import { z } from 'zod'
import { documentShape } from '../../shared/draft/document-shape.ts'
import { draftCalls } from './draft-openapi.ts'
import { compareShape, paceShape } from './shapes.ts'
import { convertShape, warpShape } from './yarn.ts'

const number = { type: 'number' }
const whole = { type: 'integer' }
const numberOrNull = { type: ['number', 'null'] }
const wholeOrNull = { type: ['integer', 'null'] }
const listOf = (items: object) => ({ type: 'array', items })
const object = (properties: Record<string, object>) => ({
  type: 'object',
  required: Object.keys(properties),
  properties,
})

const colourGrid = {
  description: 'Picks x tablets: the colour key that shows, or null where no thread does.',
  ...listOf(listOf({ type: ['string', 'null'] })),
}

const woven = object({
  tablets: whole,
  picks: whole,
  face: colourGrid,
  reverse: colourGrid,
  slant: { description: 'One string a pick, one of / \\ . (idle) a tablet.', ...listOf({ type: 'string' }) },
  net: { description: 'Net quarter turns of each tablet in the repeat, forward positive.', ...listOf(whole) },
  twistNeutral: { type: 'boolean' },
  closesAfter: { description: 'Repeats until every tablet is back at its start: 1, 2 or 4.', ...whole },
  floats: listOf(
    object({
      tablet: whole,
      hole: { enum: ['A', 'B', 'C', 'D'] },
      side: { enum: ['face', 'reverse'] },
      from: whole,
      to: whole,
      length: whole,
    }),
  ),
  longestFloat: object({ face: whole, reverse: whole }),
  reversals: listOf(whole),
  packs: listOf(listOf(whole)),
  distinctPicks: whole,
  parity: {
    description: 'True while every tablet makes an odd number of quarter turns at every pick.',
    type: 'boolean',
  },
})

const side = object({ mean: number, u: numberOrNull, n: wholeOrNull })
const comparison = object({
  original: side,
  replica: side,
  ratio: { description: 'Replica over original.', ...number },
  uRatio: numberOrNull,
  k: { description: 'Coverage factor of the 95 % interval, Student t.', ...numberOrNull },
  interval: { type: ['array', 'null'], items: number, minItems: 2, maxItems: 2 },
  df: {
    description: 'Effective degrees of freedom (Welch-Satterthwaite); null when infinite or not defined.',
    ...numberOrNull,
  },
  verdict: { enum: ['agrees', 'larger', 'smaller', 'undecided'] },
})

const pace = object({
  minutesPerRepeat: numberOrNull,
  picksPerHour: numberOrNull,
  mmPerHour: numberOrNull,
  learning: {
    type: ['object', 'null'],
    properties: { firstRepeatMinutes: number, exponent: number, ratePerDoubling: number, n: whole },
  },
})

const problem = object({
  type: { type: 'string' },
  title: { type: 'string' },
  status: whole,
  detail: { type: 'string' },
  errors: listOf(object({ path: { type: 'string' }, message: { type: 'string' } })),
})

const converted = object({
  value: { description: 'Count of one single, in the system asked for.', ...number },
  tex: { description: 'Linear density of one single.', ...number },
  resultantTex: { description: 'Of the plied yarn, before contraction.', ...number },
})

const warp = object({
  warpLengthMm: number,
  ends: whole,
  totalLengthM: number,
  perColour: {
    type: 'object',
    additionalProperties: object({ ends: whole, lengthM: number, massG: numberOrNull }),
  },
  windingTurns: {
    description: 'Turns of the winder for one end; null where the winder is not given.',
    ...numberOrNull,
  },
})

const calls = [
  {
    path: '/draft/weave',
    summary: 'What a draft weaves, and its twist, floats and packs.',
    request: documentShape,
    response: woven,
  },
  ...draftCalls,
  {
    path: '/measure/compare',
    summary: 'A replica beside its original: ratio, uncertainty and verdict.',
    request: compareShape,
    response: comparison,
  },
  {
    path: '/plan/warp',
    summary: 'The warp of a band: its length, its ends, and metres and grams of each colour.',
    request: warpShape,
    response: warp,
  },
  { path: '/work/pace', summary: 'Work done per time, breaks taken off.', request: paceShape, response: pace },
]

/** The description of the API in OpenAPI 3.1. Tablets and picks are numbered from 1 in answers. */
export function openApi(baseUrl: string): object {
  const problemContent = (description: string) => ({
    description,
    content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
  })
  const responses = (response: object) => ({
    200: {
      description: 'Computed; numbers are unrounded.',
      content: { 'application/json': { schema: response } },
    },
    400: problemContent('Not JSON.'),
    403: problemContent('Asked by a page of another address.'),
    413: problemContent('Too large.'),
    415: problemContent('Not sent as JSON.'),
    422: problemContent('Values that cannot be used, each with its path.'),
    429: problemContent('Too many requests.'),
    503: problemContent('Busy, or it took too long.'),
  })
  const paths = calls.map(({ path, summary, request, response }) => [
    path,
    {
      post: {
        operationId: path.slice(1).replace('/', '-'),
        summary,
        requestBody: {
          required: true,
          content: { 'application/json': { schema: z.toJSONSchema(request, { io: 'input' }) } },
        },
        responses: responses(response),
      },
    },
  ])
  const parameters = Object.entries(convertShape.shape).map(([name, schema]) => ({
    name,
    in: 'query',
    required: name !== 'ply',
    schema: z.toJSONSchema(schema, { io: 'input' }),
  }))
  const convert = {
    get: {
      operationId: 'yarn-convert',
      summary: 'A yarn count in another system.',
      parameters,
      responses: responses(converted),
    },
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Fellmark',
      version: '1',
      description: 'Pure computation on drafts, yarns, measurements and work. Nothing is stored.',
    },
    servers: [{ url: `${baseUrl}/api/v1` }],
    paths: { ...Object.fromEntries(paths), '/yarn/convert': convert },
    components: { schemas: { Problem: problem } },
  }
}
