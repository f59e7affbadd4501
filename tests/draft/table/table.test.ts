import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { canonicalDraft } from '../../../shared/draft/document.ts'
import { readDraftText, writeDraftText } from '../../../shared/draft/entry/draft-text.ts'
import { columnName } from '../../../shared/draft/table/cell.ts'
import { readFaceTable, writeFaceTable } from '../../../shared/draft/table/face-table.ts'
import { readTurnsTable, writeTurnsTable } from '../../../shared/draft/table/turns-table.ts'
import { turningOf } from '../../../shared/draft/turning.ts'
import { arbitraryDraft } from '../arbitrary-draft.ts'
import { weaveByHand } from '../corner-tablet.ts'

const rowsOf = (cells: readonly (readonly string[])[]) => cells.map((row, at) => ({ row: at + 1, cells: row }))

describe('readTurnsTable(rows, title) and readDraftText(text)', () => {
  it('take back every draft as it was written', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft }) => {
        const table = readTurnsTable(rowsOf(writeTurnsTable(draft)), '')
        expect(table.ok && table.draft && canonicalDraft(table.draft)).toEqual(canonicalDraft(draft))
        const text = readDraftText(writeDraftText(draft))
        expect(text.ok && canonicalDraft(text.draft)).toEqual(canonicalDraft(draft))
      }),
      { numRuns: 80 },
    )
  })

  it('takes numbers that run upward, and turns the rows round', () => {
    const read = readTurnsTable(
      rowsOf([
        ['2', 'B'],
        ['1', 'F'],
      ]),
      '',
    )
    expect(read).toEqual({ ok: true, draft: undefined, picks: ['1F', '1B'], tablets: 1 })
  })
})

describe('writeFaceTable(draft, side)', () => {
  it('holds what tablets turned by hand show, and is read back so', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.constantFrom('face' as const, 'reverse' as const), ({ draft }, side) => {
        const { tablets, picks, turns } = turningOf(draft)
        const lines = Array.from({ length: picks }, (_, pick) => [
          ...turns.subarray(pick * tablets, (pick + 1) * tablets),
        ])
        const seen = weaveByHand(draft, lines).map((tablet, at) =>
          tablet.map((pick) => (pick[side] === null ? null : draft.tablets[at]!.holes['ABCD'.indexOf(pick[side])]!)),
        )
        const read = readFaceTable(rowsOf(writeFaceTable(draft, side)))
        const nothing = seen.flat().every((key) => key === null)
        expect(read.ok).toBe(!nothing)
        if (read.ok) expect(read.cells).toEqual(lines.map((_, pick) => seen.map((tablet) => tablet[pick]!)))
      }),
      { numRuns: 80 },
    )
  })
})

describe('readFaceTable(rows)', () => {
  it('takes a first column that counts as numbers of picks, and keys that are digits otherwise', () => {
    const counted = readFaceTable(
      rowsOf([
        ['1', 'm'],
        ['2', 'w'],
      ]),
    )
    expect(counted.ok && counted.cells).toEqual([['m'], ['w']])
    const keys = readFaceTable(
      rowsOf([
        ['7', 'm'],
        ['2', 'w'],
      ]),
    )
    expect(keys.ok && keys.cells).toEqual([
      ['7', 'm'],
      ['2', 'w'],
    ])
  })
})

test.each([
  [1, 'A'],
  [26, 'Z'],
  [27, 'AA'],
  [402, 'OL'],
])('columnName(%d) is %s, as a spreadsheet counts', (column, name) => expect(columnName(column)).toBe(name))
