import { v7 as uuidv7 } from 'uuid'
import { afterEach, beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { checkRentStatement, getRent, saveRentTerms } from '@/lib/data/rent'
import { rentTermsSchema, statementRows, statementSchema } from '@/lib/schemas/rent'
import { testDatabase } from '../setup/database'
import { event, insert, newSite, newSupplier, newViewer, refusal, setCompany } from './gas-world'

let siteId: string
let manager: Viewer
let yard: Viewer
let stranger: Viewer
let supplierId: string

const rented = async (serial: string, from: string, to: string | null) => {
  const id = uuidv7()
  await insert('cylinders', {
    id,
    serial,
    gas_id: 'oxygen',
    size_id: 'oxygen-244',
    spec: 'DOT 3AA',
    supplier_id: supplierId,
  })
  const by = { cylinderId: id, siteId, by: yard }
  await event({ ...by, kind: 'received', at: `${from}T15:00:00Z` })
  if (to) await event({ ...by, kind: 'returned', at: `${to}T15:00:00Z` })
}
const terms = (over: Record<string, string> = {}) =>
  rentTermsSchema.parse({
    key: uuidv7(),
    siteId,
    supplierId,
    sizeId: 'oxygen-244',
    freeDays: '10',
    rentPerDay: '0.25',
    demurrageFromDay: '91',
    demurragePerDay: '0.60',
    validFrom: '2026-01-01',
    ...over,
  })

afterEach(() => testDatabase().setClock(0))

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  manager = await newViewer(siteId, 'shop_manager')
  yard = await newViewer(siteId, 'yard_hand')
  stranger = await newViewer(await newSite(), 'shop_manager')
  supplierId = await newSupplier()
})

describe('rent by the supplier’s terms', () => {
  test('of a month is counted from the events, and a statement with three wrong rows is disputed', async () => {
    await rented('RT-A1', '2026-04-01', null) // 10 days free, 20 at 0.25: 5.00
    await rented('RT-A2', '2026-03-27', null) // 5 days free in April, 25 at 0.25: 6.25
    await rented('RT-A3', '2026-04-01', '2026-04-17') // 17 days, 7 at 0.25: 1.75
    await saveRentTerms(manager, terms())
    const view = await getRent(manager, siteId, new Date('2026-04-01'))
    expect(view.bySupplier).toMatchObject([
      { cylinders: 3, days: 30 + 30 + 17, amountMinor: 500 + 625 + 175, unknown: 0 },
    ])
    const statement =
      'Cylinder;Days;Amount\nRT-A1;30;5.00\nRT-A2;30;7,50\nRT-A3;30;$5.00\nRT-X9;30;5.00'
    const checked = await checkRentStatement(
      manager,
      statementSchema.parse({ siteId, supplierId, month: '2026-04', statement }),
    )
    expect(checked.rows.map((row) => [row.serial, row.faults, row.disputeMinor])).toEqual([
      ['RT-A1', [], 0],
      ['RT-A2', ['amount_differs'], 125],
      ['RT-A3', ['days_differ', 'amount_differs'], 325],
      ['RT-X9', ['not_ours'], 500],
    ])
    expect(checked).toMatchObject({ disputeMinor: 950, currency: 'USD' })
  })

  test('names what should go back: empties first, then what nobody touched for 45 days', async () => {
    const own = await newSite()
    const hand = await newViewer(own, 'yard_hand', 'shop_manager')
    const at = async (serial: string, day: string, isEmpty = false) => {
      const id = uuidv7()
      const size = { gas_id: 'oxygen', size_id: 'oxygen-244', spec: 'DOT 3AA' }
      await insert('cylinders', { id, serial, supplier_id: supplierId, ...size })
      const by = { cylinderId: id, siteId: own, by: hand }
      await event({ ...by, kind: 'received', at: `${day}T15:00:00Z` })
      if (isEmpty) await event({ ...by, kind: 'read', marked_empty: true, at: `${day}T16:00:00Z` })
    }
    await testDatabase().setClock(Date.parse('2026-06-01T15:00:00Z') - Date.now())
    await at('RI-OLD', '2026-04-16') // 46 days
    await at('RI-NEW', '2026-04-18') // 44 days
    await at('RI-EMPTY', '2026-05-30', true)
    const { idle } = await getRent(hand, own, new Date('2026-06-01'))
    expect(idle.map((row) => [row.serial, row.status, row.days])).toEqual([
      ['RI-EMPTY', 'empty', 1],
      ['RI-OLD', 'full', 46],
    ])
  })

  test('is read to whoever reads orders there, and set by who confirms them', async () => {
    await expect(saveRentTerms(yard, terms())).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(saveRentTerms(stranger, terms())).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(getRent(stranger, siteId, new Date('2026-04-01'))).rejects.toEqual(
      refusal('NOT_FOUND'),
    )
    const input = statementSchema.parse({ siteId, supplierId, month: '2026-04', statement: 'A,1' })
    await expect(checkRentStatement(stranger, input)).rejects.toEqual(refusal('NOT_FOUND'))
    await expect(checkRentStatement(yard, input)).rejects.toEqual(refusal('FORBIDDEN'))
  })

  test('names the row of a statement that cannot be read', () => {
    expect(statementRows('Serial,Amount\nA1,5.00\nA2,soon')).toEqual({
      wrongRow: 2,
      value: 'A2 soon',
    })
    expect(statementRows('A1,1234.50')).toEqual({
      rows: [{ row: 1, serial: 'A1', days: null, amountMinor: 123_450 }],
    })
  })
})
