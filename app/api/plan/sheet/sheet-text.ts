import type { OrderSheet, SheetOrder } from '@/lib/data/plan/sheets'
import { formatMoney } from '@/lib/format/numbers'
import { PDF_COLUMNS } from '@/lib/format/plain-pdf'

/** A cell that a spreadsheet reads as text, never as a formula. */
export const csvText = (value: string) =>
  `"${value.replaceAll('"', '""').replace(/^[=+\-@\t\r]/, "'$&")}"`

export type SheetWords = Readonly<{
  gas: (gasId: string) => string
  say: (
    key: 'order' | 'due' | 'to' | 'by' | 'fills' | 'foot',
    values?: Record<string, string>,
  ) => string
}>

const MINOR = 100

/** One line an order line, so that a supplier's own system can read it. */
export function sheetCsv(sheet: OrderSheet, { gas }: SheetWords): string {
  const head = 'order,due,site,address,gas,size,quantity,fill_each,currency'
  const rows = sheet.orders.flatMap((order) =>
    order.lines.map((line) =>
      [
        csvText(order.number),
        order.dueOn,
        csvText(order.siteName),
        csvText(order.address),
        csvText(gas(line.gasId)),
        csvText(line.sizeName),
        line.quantity,
        (line.fillMinor / MINOR).toFixed(2),
        sheet.currency,
      ].join(','),
    ),
  )
  return `${[head, ...rows].join('\r\n')}\r\n`
}

const fillsOf = (order: SheetOrder) =>
  order.lines.reduce((sum, line) => sum + line.quantity * line.fillMinor, 0)

/** The sheet as lines that are printed or sent. */
export function sheetLines(sheet: OrderSheet, { gas, say }: SheetWords): string[] {
  const rule = '-'.repeat(PDF_COLUMNS)
  const orders = sheet.orders.flatMap((order) => [
    rule,
    `${say('order', { number: order.number })}   ${say('due', { day: order.dueOn })}`,
    say('to', { site: order.siteName, address: order.address }),
    '',
    ...order.lines.map(
      (line) =>
        `${String(line.quantity).padStart(5)}  ${gas(line.gasId).padEnd(16)}${line.sizeName.padEnd(16)}` +
        formatMoney(line.fillMinor, sheet.currency).padStart(12),
    ),
    '',
    `${say('fills', { cost: formatMoney(fillsOf(order), sheet.currency) })}   ${say('by', { person: order.confirmedBy })}`,
  ])
  return [
    sheet.companyName,
    `${sheet.supplierName}, ${sheet.printedOn}`,
    '',
    ...orders,
    rule,
    say('foot'),
  ]
}
