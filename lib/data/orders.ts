import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan, can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { orderCostMinor } from '@/lib/calc/order-cost'
import { AppError } from '@/lib/errors'
import type { CancelOrderInput, ConfirmOrderInput } from '@/lib/schemas/order'
import { readAgreements } from './agreements'
import { db } from './client'
import { once } from './client-keys'
import { forecastSites, type GasForecast } from './forecast'
import {
  agreedOf,
  coverOf,
  dayAfter,
  nextTruck,
  type OrderRow,
  readOrders,
  readSuppliers,
  readToday,
  type SupplierChoice,
  soonestLead,
} from './orders-supply'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

export type Proposal = Readonly<{
  sizeId: string
  sizeName: string
  gasId: string
  /** By the order-up-to level; 0 where what is there and ordered is enough. */
  quantity: number
  forecast: GasForecast | null
}>

export type OrderPage = Readonly<{
  now: Date
  suppliers: readonly (SupplierChoice &
    Readonly<{ /** Its next truck to this site. */ dueOn: string }>)[]
  /** Who sells all that is proposed for the least; null where nobody sells gas. */
  supplierId: string | null
  proposals: readonly Proposal[]
  gases: readonly GasForecast[]
  orders: readonly OrderRow[]
  mayConfirm: boolean
}>

/** Every size that somebody sells; the ones that the site has most of come first. */
function toProposals(
  suppliers: readonly SupplierChoice[],
  gases: readonly GasForecast[],
): Proposal[] {
  const prices = suppliers.flatMap((supplier) => supplier.prices)
  const sold = new Map(prices.map((price) => [price.sizeId, price]))
  return [...sold.values()]
    .toSorted((a, b) => (a.sizeId < b.sizeId ? -1 : 1))
    .map(({ sizeId, sizeName, gasId }) => {
      const forecast = gases.find((gas) => gas.sizeId === sizeId) ?? null
      return {
        sizeId,
        sizeName,
        gasId,
        quantity: forecast?.forecast.orderUpTo.orderCylinders ?? 0,
        forecast,
      }
    })
    .sort((a, b) => Number(b.forecast !== null) - Number(a.forecast !== null))
}

/** Who sells all that is proposed for the least, a delivery included. */
function cheapest(
  suppliers: readonly SupplierChoice[],
  proposals: readonly Proposal[],
): SupplierChoice | null {
  const costs = suppliers.map((supplier) => {
    const lines = proposals.map(({ sizeId, quantity }) => ({
      quantity,
      fillMinor: supplier.prices.find((price) => price.sizeId === sizeId)?.fillMinor ?? null,
    }))
    const cost = orderCostMinor({ lines, deliveryFeeMinor: supplier.deliveryFeeMinor })
    return { supplier, cost: cost ?? Number.POSITIVE_INFINITY }
  })
  return costs.toSorted((a, b) => a.cost - b.cost)[0]?.supplier ?? null
}

/** Suppliers as this site agreed with them; days of its own where no others were agreed. */
async function suppliersOf(siteId: string) {
  const [suppliers, agreements] = await Promise.all([readSuppliers(), readAgreements([siteId])])
  return suppliers.map((supplier) => {
    const agreement = agreements.find((one) => one.supplierId === supplier.id)
    const days = agreement?.deliveryDays ?? []
    return { ...agreedOf(supplier, agreement), deliveryDays: days.length > 0 ? days : null }
  })
}

/** What a site should order, why, and what has been ordered. */
export async function getOrders(viewer: Viewer, siteId: string): Promise<OrderPage> {
  assertCan(viewer, 'order:read', siteId)
  const [day, suppliers, orders] = await Promise.all([
    readToday(siteId),
    suppliersOf(siteId),
    readOrders(siteId),
  ])
  const gases = await forecastSites([siteId], coverOf(day, soonestLead(suppliers)))
  const proposals = toProposals(suppliers, gases)
  return {
    now: day.now,
    suppliers: suppliers.map((supplier) => ({
      ...supplier,
      dueOn: nextTruck(day.today, supplier.leadDays, supplier.deliveryDays ?? day.delivery_days),
    })),
    supplierId: cheapest(suppliers, proposals)?.id ?? null,
    gases,
    proposals,
    orders,
    mayConfirm: can(viewer, 'order:confirm', siteId),
  }
}

/** Days until a gas is short at the chance that counts, before an order and after; null is past the horizon. */
export type Outlook = Readonly<{ gasId: string; before: number | null; after: number | null }>

/** What the forecast said when it was confirmed: kept with the order. */
const reasonOf = (gases: readonly GasForecast[]) => ({
  gases: gases.map((gas) => ({
    gasId: gas.gasId,
    stockCylinders: gas.stockCylinders,
    daysUntilShort: gas.forecast.daysUntilShort,
    level: gas.forecast.orderUpTo.level,
  })),
})

function linesOf(input: ConfirmOrderInput, supplier: SupplierChoice) {
  return input.sizeId.flatMap((sizeId, index) => {
    const quantity = input.quantity[index] ?? 0
    if (quantity === 0) return []
    const price = supplier.prices.find((one) => one.sizeId === sizeId)
    if (!price) throw new AppError('SIZE_NOT_SOLD', { supplier: supplier.name, size: sizeId })
    return [{ id: uuidv7(), siteId: input.siteId, sizeId, quantity, fillMinor: price.fillMinor }]
  })
}

type Known = Readonly<{
  input: ConfirmOrderInput
  today: string
  supplier: SupplierChoice
  gases: readonly GasForecast[]
}>

async function writeOrder(tx: Tx, viewer: Viewer, { input, today, supplier, gases }: Known) {
  const earliest = dayAfter(today, supplier.leadDays)
  if (input.dueOn < earliest)
    throw new AppError('DUE_TOO_SOON', {
      supplier: supplier.name,
      days: supplier.leadDays,
      earliest,
    })
  const id = uuidv7()
  const number = `${today.slice(2).replaceAll('-', '')}-${id.slice(-4).toUpperCase()}`
  const reason = reasonOf(gases)
  await tx.order.create({
    select: { id: true },
    data: {
      id,
      siteId: input.siteId,
      supplierId: supplier.id,
      number,
      dueOn: new Date(`${input.dueOn}T00:00:00Z`),
      reason,
      confirmedBy: viewer.personId,
      lines: { create: linesOf(input, supplier) },
    },
  })
  return { id, number, before: reason.gases }
}

/** Confirms an order once; the forecast counts it from that moment, and the answer says what it changed. */
export async function confirmOrder(
  viewer: Viewer,
  input: ConfirmOrderInput,
): Promise<{ id: string; number: string; outlook: Outlook[] }> {
  roleThen(viewer, 'order:confirm', input.siteId)
  const [day, suppliers] = await Promise.all([readToday(input.siteId), suppliersOf(input.siteId)])
  const supplier = suppliers.find((one) => one.id === input.supplierId)
  if (!supplier) throw new AppError('SUPPLIER_UNKNOWN')
  const gases = await forecastSites([input.siteId], coverOf(day, supplier.leadDays))
  const { id, number, before } = await inTransaction(viewer, 'order:confirm', (tx) =>
    once(tx, viewer, { key: input.key, action: 'order:confirm', input }, () =>
      writeOrder(tx, viewer, { input, today: day.today, supplier, gases }),
    ),
  )
  const after = await forecastSites([input.siteId])
  return {
    id,
    number,
    outlook: after.map((gas) => ({
      gasId: gas.gasId,
      before: before.find((one) => one.gasId === gas.gasId)?.daysUntilShort ?? null,
      after: gas.forecast.daysUntilShort,
    })),
  }
}

/** Takes back an order that has not come. */
export async function cancelOrder(
  viewer: Viewer,
  input: CancelOrderInput,
): Promise<{ id: string }> {
  const order = await db.order.findUnique({
    where: { id: input.orderId },
    select: { siteId: true },
  })
  if (!order) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'order:confirm', order.siteId)
  return inTransaction(viewer, 'order:cancel', (tx) =>
    once(tx, viewer, { key: input.key, action: 'order:cancel', input }, async () => {
      const { count } = await tx.order.updateMany({
        where: { id: input.orderId, version: input.version, state: 'confirmed' },
        data: { state: 'cancelled', version: { increment: 1 } },
      })
      if (count === 0) throw new AppError('CONFLICT')
      return { id: input.orderId }
    }),
  )
}
