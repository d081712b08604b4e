import type { Row } from '../facts'
import { namedUuid } from '../ids'
import type { SizeId } from '../reference'
import { addDays, localDay } from '../zones'
import type { SupplierKey, World } from './world'

const FIRST_MS = Date.UTC(2024, 0, 1)

export type SupplierPlan = Readonly<{ key: SupplierKey; leadDays: number; row: Row }>

/** Invented suppliers. */
export const SUPPLIERS: readonly SupplierPlan[] = [
  {
    key: 'marrowby',
    leadDays: 2,
    row: {
      id: namedUuid('supplier/marrowby', FIRST_MS),
      name: 'Marrowby Gas Depot',
      lead_days: 2,
      order_email: 'orders@marrowby.example',
      delivery_fee_minor: 4500,
    },
  },
  {
    key: 'pell',
    leadDays: 3,
    row: {
      id: namedUuid('supplier/pell', FIRST_MS),
      name: 'Pell Wharf Cylinder Co.',
      lead_days: 3,
      order_email: 'desk@pellwharf.example',
      delivery_fee_minor: 6000,
    },
  },
]

export function supplierIdOf(key: SupplierKey): string {
  const id = SUPPLIERS.find((supplier) => supplier.key === key)?.row.id
  if (typeof id !== 'string') throw new Error(`no supplier ${key}`)
  return id
}

export const leadDaysOf = (key: SupplierKey): number =>
  SUPPLIERS.find((supplier) => supplier.key === key)?.leadDays ?? 3

/** What a fill costs and a day's rent, in cents; invented. */
export const PRICES: readonly Readonly<{
  size: SizeId
  supplier: SupplierKey
  fillMinor: number
  rentMinorPerDay: number
}>[] = [
  { size: 'oxygen-244', supplier: 'marrowby', fillMinor: 4400, rentMinorPerDay: 32 },
  { size: 'oxygen-122', supplier: 'marrowby', fillMinor: 3100, rentMinorPerDay: 28 },
  { size: 'acetylene-225', supplier: 'marrowby', fillMinor: 12_800, rentMinorPerDay: 36 },
  { size: 'propane-100', supplier: 'marrowby', fillMinor: 9600, rentMinorPerDay: 18 },
  { size: 'oxygen-330', supplier: 'pell', fillMinor: 5600, rentMinorPerDay: 38 },
  { size: 'acetylene-130', supplier: 'pell', fillMinor: 8400, rentMinorPerDay: 34 },
]

export const fillMinorOf = (size: SizeId): number =>
  PRICES.find((price) => price.size === size)?.fillMinor ?? 0
export const supplierOf = (size: SizeId): SupplierKey =>
  PRICES.find((price) => price.size === size)?.supplier ?? 'marrowby'

/** Two generations of prices: last year's, and this year's a little dearer. */
export function priceRows(world: World): Row[] {
  const startDay = localDay('America/New_York', world.startMs)
  const raisedOn = addDays(startDay, 190)
  return PRICES.flatMap(({ size, supplier, fillMinor, rentMinorPerDay }) =>
    [
      {
        fill: Math.round(fillMinor * 0.94),
        from: addDays(startDay, -30),
        until: addDays(raisedOn, -1),
      },
      { fill: fillMinor, from: raisedOn, until: null },
    ].map(({ fill, from, until }) => ({
      id: world.scribe.newId(world.startMs),
      supplier_id: supplierIdOf(supplier),
      size_id: size,
      fill_minor: fill,
      rent_minor_per_day: rentMinorPerDay,
      currency: 'USD',
      valid_from: from,
      valid_until: until,
    })),
  )
}
