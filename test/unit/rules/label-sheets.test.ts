import { describe, expect, test } from 'vitest'
import { LABEL_SHEETS, PAPER_MM } from '@/lib/rules/label-sheets'

// Letter is 8.5 by 11 in; A4 is 210 by 297 mm (ISO 216).
describe.each(LABEL_SHEETS)('a sheet of $id', (sheet) => {
  const paper = PAPER_MM[sheet.paper]
  const width = sheet.across * sheet.labelWidthMm + (sheet.across - 1) * sheet.betweenAcrossMm
  const height = sheet.down * sheet.labelHeightMm + (sheet.down - 1) * sheet.betweenDownMm

  test('lies within its paper, with as much margin right as left and below as above', () => {
    expect(paper.width - width - sheet.leftMm).toBeGreaterThan(0)
    expect(Math.abs(paper.width - width - 2 * sheet.leftMm)).toBeLessThan(0.6)
    expect(Math.abs(paper.height - height - 2 * sheet.topMm)).toBeLessThan(0.6)
  })
})
