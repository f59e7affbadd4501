import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** The box of a path in a PDF, measured on the paper. */
export interface PdfBox {
  readonly page: number
  readonly widthMm: number
  readonly heightMm: number
}

const MM_PER_POINT = 25.4 / 72
type Matrix = readonly [number, number, number, number, number, number]

/** Every path of a PDF by its box on the paper: the transformations that stand above it are multiplied out. */
export async function listPdfLines(data: Uint8Array): Promise<PdfBox[]> {
  const pdf = await getDocument({ data, verbosity: 0 }).promise
  const boxes: PdfBox[] = []
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { fnArray, argsArray } = await (await pdf.getPage(number)).getOperatorList()
    const stack: Matrix[] = []
    let matrix: Matrix = [1, 0, 0, 1, 0, 0]
    fnArray.forEach((operation, at) => {
      const args = argsArray[at] as unknown[]
      if (operation === OPS.save || operation === OPS.paintFormXObjectBegin) stack.push(matrix)
      if (operation === OPS.restore || operation === OPS.paintFormXObjectEnd) matrix = stack.pop() ?? matrix
      if (operation === OPS.transform) matrix = multiply(matrix, args as unknown as Matrix)
      if (operation === OPS.paintFormXObjectBegin && Array.isArray(args[0]))
        matrix = multiply(matrix, args[0] as unknown as Matrix)
      if (operation === OPS.constructPath) boxes.push({ page: number, ...toBox(matrix, args[2] as number[]) })
    })
  }
  await pdf.destroy()
  return boxes
}

/** A piece of text on the paper: where it begins (its base line, from the upper left corner), and how large its type is. */
export interface PdfText {
  readonly page: number
  readonly text: string
  readonly xMm: number
  readonly yMm: number
  readonly widthMm: number
  readonly sizePt: number
}

/** Every piece of text of a PDF, and the size of each of its pages. */
export async function listPdfText(
  data: Uint8Array,
): Promise<{ texts: PdfText[]; pages: { widthMm: number; heightMm: number }[] }> {
  const pdf = await getDocument({ data, verbosity: 0 }).promise
  const [texts, pages]: [PdfText[], { widthMm: number; heightMm: number }[]] = [[], []]
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number)
    const [, , width = 0, height = 0] = page.view
    pages.push({ widthMm: width * MM_PER_POINT, heightMm: height * MM_PER_POINT })
    for (const item of (await page.getTextContent()).items) {
      if (!('str' in item) || item.str.trim() === '') continue
      const [, , c = 0, d = 0, x = 0, y = 0] = item.transform as number[]
      texts.push({
        page: number,
        text: item.str,
        xMm: x * MM_PER_POINT,
        yMm: (height - y) * MM_PER_POINT,
        widthMm: item.width * MM_PER_POINT,
        sizePt: Math.hypot(c, d),
      })
    }
  }
  await pdf.destroy()
  return { texts, pages }
}

export async function readPdfText(data: Uint8Array): Promise<string> {
  const pdf = await getDocument({ data, verbosity: 0 }).promise
  const pages: string[] = []
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent()
    pages.push(items.map((item) => ('str' in item ? item.str : '')).join(' '))
  }
  await pdf.destroy()
  return pages.join(' ').replace(/\s+/g, ' ')
}

function toBox(matrix: Matrix, minMax: readonly number[]): Omit<PdfBox, 'page'> {
  const [minX = 0, minY = 0, maxX = 0, maxY = 0] = minMax
  const [a, b, c, d] = matrix
  const [width, height] = [maxX - minX, maxY - minY]
  return {
    widthMm: (Math.abs(a * width) + Math.abs(c * height)) * MM_PER_POINT,
    heightMm: (Math.abs(b * width) + Math.abs(d * height)) * MM_PER_POINT,
  }
}

function multiply([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix {
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f]
}
