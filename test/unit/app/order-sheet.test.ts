import { expect, test } from 'vitest'
import { type SheetWords, sheetCsv, sheetLines } from '@/app/api/plan/sheet/sheet-text'

const sheet = {
  supplierName: 'Marrowby Gas Depot',
  companyName: 'Ferrow Dunn Cutting',
  currency: 'USD',
  printedOn: '2026-04-13',
  orders: [
    {
      id: 'one',
      siteId: 'site',
      number: '260413-A1B2',
      dueOn: '2026-04-15',
      siteName: '=Mill "north"',
      address: 'Pier 1, Ostrander',
      confirmedBy: 'Jo Pruitt',
      lines: [
        { quantity: 6, gasId: 'oxygen', sizeName: '244 ft³', fillMinor: 4400 },
        { quantity: 1, gasId: 'acetylene', sizeName: '225 ft³', fillMinor: 12_850 },
      ],
    },
  ],
}
const words: SheetWords = {
  gas: (gasId) => gasId,
  say: (key, values) => `${key} ${Object.values(values ?? {}).join(' ')}`.trim(),
}

test('the file has a line an order line, and a name is never a formula', () => {
  expect(sheetCsv(sheet, words)).toBe(
    'order,due,site,address,gas,size,quantity,fill_each,currency\r\n' +
      `"260413-A1B2",2026-04-15,"'=Mill ""north""","Pier 1, Ostrander","oxygen","244 ft³",6,44.00,USD\r\n` +
      `"260413-A1B2",2026-04-15,"'=Mill ""north""","Pier 1, Ostrander","acetylene","225 ft³",1,128.50,USD\r\n`,
  )
})

test('the sheet adds the fills up', () => {
  const lines = sheetLines(sheet, words)
  // 6 × 44.00 + 128.50
  expect(lines.join('\n')).toContain('fills $392.50   by Jo Pruitt')
  expect(lines.filter((line) => /^ +\d/.test(line))).toHaveLength(2)
})
