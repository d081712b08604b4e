import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { type Sending, sendSheet } from '@/lib/data/plan/send-sheet'
import { sendMail } from '@/lib/mail'
import { type SmtpSink, startSmtpSink } from '../setup/smtp-sink'
import { insert, newSite, newSupplier, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let manager: Viewer
let supplierId: string
let sink: SmtpSink

beforeAll(setCompany)
beforeEach(async () => {
  siteId = await newSite('UTC')
  manager = await newViewer(siteId, 'shop_manager')
  supplierId = await newSupplier()
  await rowsOf("UPDATE suppliers SET order_email = 'desk@gas.example' WHERE id = $1", [supplierId])
  sink = await startSmtpSink()
})
afterEach(() => sink.stop())

async function ordered() {
  const id = uuidv7()
  await insert('orders', {
    id,
    site_id: siteId,
    supplier_id: supplierId,
    number: `N-${id.slice(-6)}`,
    due_on: '2099-01-05',
    reason: { json: {} },
    confirmed_by: manager.personId,
  })
  await insert('order_lines', {
    id: uuidv7(),
    order_id: id,
    site_id: siteId,
    size_id: 'oxygen-244',
    quantity: 6,
    fill_minor: 4400,
  })
  return id
}

const by = (url: string | null): Sending => ({
  compose: async (sheet) => ({
    subject: `Orders of ${sheet.companyName}`,
    text: sheet.orders.map((order) => order.number).join('\n'),
    attachments: [{ name: 'orders.csv', type: 'text/csv', bytes: 'order,due\r\n' }],
  }),
  deliver: url ? (mail) => sendMail(url, mail) : null,
  from: 'orders@test.invalid',
})
const sheet = () => ({ key: uuidv7(), supplierId })
const sentRows = () =>
  rowsOf('SELECT sent_to FROM sheets_sent WHERE supplier_id = $1', [supplierId])

describe('an order sheet by mail', () => {
  test('goes to the supplier with its files, and is kept with whom it went to', async () => {
    await ordered()
    const sent = await sendSheet(manager, sheet(), by(sink.url))
    expect(sent).toEqual({ sentTo: 'desk@gas.example', orders: 1 })
    expect(sink.mails).toHaveLength(1)
    const [mail] = sink.mails
    expect(mail).toContain('To: desk@gas.example')
    expect(mail).toContain('From: orders@test.invalid')
    expect(mail).toContain(`Reply-To: ${manager.personId}@test.invalid`)
    expect(mail).toMatch(/filename=orders\.csv/)
    expect(await sentRows()).toEqual([{ sent_to: 'desk@gas.example' }])
  })

  test('sent twice goes once', async () => {
    await ordered()
    const input = sheet()
    await sendSheet(manager, input, by(sink.url))
    await sendSheet(manager, input, by(sink.url))
    expect(sink.mails).toHaveLength(1)
    expect(await sentRows()).toHaveLength(1)
  })

  test('that the server won’t take leaves no record of having gone, and may be sent again', async () => {
    await ordered()
    const full = await startSmtpSink({ isFull: true })
    const input = sheet()
    await expect(sendSheet(manager, input, by(full.url))).rejects.toEqual(refusal('MAIL_FAILED'))
    await full.stop()
    expect(await sentRows()).toEqual([])
    await sendSheet(manager, input, by(sink.url))
    expect(await sentRows()).toHaveLength(1)
  })

  test('is refused with nothing ordered, without an address, without a server, and to who may not order', async () => {
    await expect(sendSheet(manager, sheet(), by(sink.url))).rejects.toEqual(refusal('NOT_FOUND'))
    const id = await ordered()
    await rowsOf("UPDATE orders SET state = 'delivered' WHERE id = $1", [id])
    await expect(sendSheet(manager, sheet(), by(sink.url))).rejects.toEqual(
      refusal('NOTHING_TO_SEND'),
    )
    await ordered()
    await expect(sendSheet(manager, sheet(), by(null))).rejects.toEqual(refusal('MAIL_NOT_SET'))
    const watch = await newViewer(siteId, 'fire_watch')
    await expect(sendSheet(watch, sheet(), by(sink.url))).rejects.toEqual(refusal('FORBIDDEN'))
    await rowsOf('UPDATE suppliers SET order_email = NULL WHERE id = $1', [supplierId])
    await expect(sendSheet(manager, sheet(), by(sink.url))).rejects.toEqual(
      refusal('NO_ORDER_EMAIL'),
    )
    expect(sink.mails).toEqual([])
  })
})
