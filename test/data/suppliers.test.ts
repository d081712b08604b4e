import { v7 as uuidv7 } from 'uuid'
import { beforeAll, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { listSuppliers } from '@/lib/data/suppliers'
import { saveAgreement, savePrice, saveSupplier } from '@/lib/data/suppliers-acts'
import { agreementSchema, priceSchema, supplierSchema } from '@/lib/schemas/supplier'
import { testDatabase } from '../setup/database'
import { newSite, newSupplier, newViewer, refusal, rowsOf, setCompany } from './gas-world'

let siteId: string
let manager: Viewer
let yard: Viewer

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  manager = await newViewer(siteId, 'shop_manager')
  yard = await newViewer(siteId, 'yard_hand')
})

const agreement = (supplierId: string, over: object = {}) =>
  agreementSchema.parse({
    key: uuidv7(),
    siteId,
    supplierId,
    leadDays: '3',
    deliveryDays: ['2', '5'],
    least: '4',
    most: '24',
    deliveryFee: '45.00',
    breakFrom: ['10', '20', ''],
    breakOff: ['2.00', '3.50', ''],
    validFrom: '2026-01-01',
    ...over,
  })
const shown = async (id: string, at = siteId) =>
  (await listSuppliers(manager, at)).suppliers.find((one) => one.id === id)

test('a supplier is entered and changed by whoever confirms orders, and the company’s chain has both', async () => {
  const typed = { key: uuidv7(), siteId, supplierId: '', name: `Gas ${uuidv7()}`, leadDays: '2' }
  await expect(saveSupplier(yard, supplierSchema.parse(typed))).rejects.toEqual(
    refusal('FORBIDDEN'),
  )
  const { id } = await saveSupplier(manager, supplierSchema.parse(typed))
  expect(await saveSupplier(manager, supplierSchema.parse(typed))).toEqual({ id })
  await saveSupplier(
    manager,
    supplierSchema.parse({ ...typed, key: uuidv7(), supplierId: id, deliveryFee: '12.50' }),
  )
  expect(await shown(id)).toMatchObject({ deliveryFeeMinor: 1250, leadDays: 2, agreement: null })
  const entries = await rowsOf(
    "SELECT 1 FROM audit_entries WHERE chain = 'company' AND subject_id = $1",
    [id],
  )
  expect(entries).toHaveLength(2)
})

test('what a site agreed on holds from its day on and for that site alone', async () => {
  const id = await newSupplier()
  await saveAgreement(manager, agreement(id))
  await saveAgreement(manager, agreement(id, { leadDays: '9', validFrom: '2099-01-01' }))
  expect((await shown(id))?.agreement).toMatchObject({
    leadDays: 3,
    deliveryDays: [2, 5],
    leastCylinders: 4,
    mostCylinders: 24,
    deliveryFeeMinor: 4500,
    breaks: [
      { from: 10, offMinor: 200 },
      { from: 20, offMinor: 350 },
    ],
  })
  await saveAgreement(manager, agreement(id, { leadDays: '1', breakFrom: [], breakOff: [] }))
  expect((await shown(id))?.agreement).toMatchObject({ leadDays: 1, breaks: [] })
  const other = await newSite()
  const there = await newViewer(other, 'shop_manager')
  expect(
    (await listSuppliers(there, other)).suppliers.find((one) => one.id === id)?.agreement,
  ).toBeNull()
  await expect(saveAgreement(there, agreement(id))).rejects.toEqual(refusal('NOT_FOUND'))
  await expect(
    testDatabase().runtime.query('UPDATE supply_agreements SET lead_days = 0'),
  ).rejects.toThrow()
})

test.each([
  ['breaks that fall', { breakFrom: ['20', '10'], breakOff: ['2.00', '3.50'] }, 'BREAKS_RISE'],
  ['half a break', { breakFrom: ['20'], breakOff: [''] }, 'BREAKS_RISE'],
  ['most below least', { most: '3' }, 'LESS_THAN_LEAST'],
])('refuses %s', (_which, over, code) => {
  const typed = { key: uuidv7(), siteId, supplierId: siteId, leadDays: '3', least: '4' }
  const parsed = agreementSchema.safeParse({ ...typed, validFrom: '2026-01-01', ...over })
  expect(parsed.error?.issues.map((issue) => issue.message)).toEqual([code])
})

test('a new price ends the one before on the day before', async () => {
  const supplierId = await newSupplier()
  const price = (fill: string, validFrom: string) =>
    savePrice(
      manager,
      priceSchema.parse({
        key: uuidv7(),
        siteId,
        supplierId,
        sizeId: 'oxygen-244',
        fill,
        validFrom,
      }),
    )
  await price('40.00', '2026-01-01')
  await price('44.00', '2026-03-01')
  expect((await shown(supplierId))?.prices).toMatchObject([{ fillMinor: 4400 }])
  expect(
    await rowsOf(
      "SELECT fill_minor, to_char(valid_until, 'YYYY-MM-DD') AS until FROM prices WHERE supplier_id = $1 ORDER BY valid_from",
      [supplierId],
    ),
  ).toEqual([
    { fill_minor: 4000, until: '2026-02-28' },
    { fill_minor: 4400, until: null },
  ])
})
