import { getTranslations } from 'next-intl/server'
import type { OrderSheet } from '@/lib/data/plan/sheets'
import { plainPdf } from '@/lib/format/plain-pdf'
import { type SheetWords, sheetCsv, sheetLines } from './sheet-text'

/** An order sheet as the files that are downloaded or mailed. */
export async function sheetFiles(sheet: OrderSheet) {
  const g = await getTranslations('permit.vessel.gas')
  const t = await getTranslations('plan.sheet')
  const words: SheetWords = {
    gas: (gasId) => g(gasId as 'oxygen'),
    say: (key, values) => t(key, values),
  }
  const lines = sheetLines(sheet, words)
  return {
    lines,
    pdf: { name: `orders-${sheet.printedOn}.pdf`, bytes: await plainPdf(lines) },
    csv: { name: `orders-${sheet.printedOn}.csv`, text: sheetCsv(sheet, words) },
  }
}
