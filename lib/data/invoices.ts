import 'server-only'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { checkInvoice, type InvoiceCheck } from '@/lib/calc/invoice-check'
import { AppError } from '@/lib/errors'
import { type InvoiceInput, itemOf } from '@/lib/schemas/invoice'
import { readAgreementOn } from './agreements'
import { db } from './client'
import { readTermsUntil } from './rent-terms'

const DAY_MS = 86_400_000
const TOLERANCE_MINOR = 1

export type CheckedInvoice = Readonly<
  Omit<InvoiceCheck, 'rows' | 'unasked'> & {
    currency: string
    rows: readonly (InvoiceCheck['rows'][number] & Readonly<{ what: string }>)[]
    unasked: readonly Readonly<{ sizeId: string; gasId: string; sizeName: string; count: number }>[]
  }
>

type Came = Readonly<{ serial: string; sizeId: string; batch: string | null }>
type Bad = Readonly<{
  kind: string
  serial: string | null
  batch: string | null
  how: string | null
}>

/** What came and is to be paid for, and what is not: left on the truck, sent back or credited. */
async function readCame(deliveryId: string) {
  const [came, bad] = await Promise.all([
    db.$queryRaw<Came[]>`
      SELECT c.serial, c.size_id AS "sizeId", e.batch FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
      WHERE e.delivery_id = ${deliveryId}::uuid AND e.kind = 'received'`,
    db.$queryRaw<Bad[]>`
      SELECT d.kind, d.serial, d.batch, s.how FROM delivery_differences d
      LEFT JOIN delivery_settlements s ON s.difference_id = d.id WHERE d.delivery_id = ${deliveryId}::uuid`,
  ])
  const isNotPaid = ({ kind, how }: Bad) =>
    kind.startsWith('refused_') || how === 'credited' || how === 'returned'
  const notPaid = bad
    .filter(isNotPaid)
    .flatMap(({ serial, batch, kind }) =>
      kind === 'impure'
        ? came.filter((one) => one.batch === batch).map((one) => one.serial)
        : (serial ?? []),
    )
  return { came, notPaid }
}

/** What a fill costs: as the order was confirmed, else by the price of that day; less what so many come cheaper. */
async function readFills(
  of: Readonly<{ orderId: string | null; supplierId: string; day: number; off: number }>,
) {
  const [lines, prices] = await Promise.all([
    of.orderId
      ? db.orderLine.findMany({
          where: { orderId: of.orderId },
          select: { sizeId: true, fillMinor: true },
        })
      : [],
    db.$queryRaw<{ sizeId: string; fillMinor: number }[]>`
      SELECT DISTINCT ON (size_id) size_id AS "sizeId", fill_minor AS "fillMinor" FROM prices
      WHERE supplier_id = ${of.supplierId}::uuid AND valid_from <= ${new Date(of.day * DAY_MS)}::date
        AND coalesce(valid_until, DATE '9999-12-31') >= ${new Date(of.day * DAY_MS)}::date
      ORDER BY size_id, valid_from DESC`,
  ])
  return (sizeId: string) => {
    const agreed = [...lines, ...prices].find((row) => row.sizeId === sizeId)
    return agreed ? Math.max(0, agreed.fillMinor - of.off) : null
  }
}

/** A supplier's invoice of a delivery beside what came and what was agreed. It changes nothing. */
export async function checkDeliveryInvoice(
  viewer: Viewer,
  input: InvoiceInput,
): Promise<CheckedInvoice> {
  const { deliveryId } = input
  const delivery = await db.delivery.findFirst({
    where: { id: deliveryId, siteId: { in: sitesWhere(viewer, 'cylinder:read') } },
    select: { siteId: true, supplierId: true, orderId: true },
  })
  if (!delivery) throw new AppError('NOT_FOUND')
  const { siteId, supplierId, orderId } = delivery
  assertCan(viewer, 'order:confirm', siteId)
  const [[on], company, supplier, sizes, { came, notPaid }] = await Promise.all([
    db.$queryRaw<{ day: number }[]>`
      SELECT kerf_site_day(site_id, received_at) - DATE '1970-01-01' AS day FROM deliveries WHERE id = ${deliveryId}::uuid`,
    db.company.findFirstOrThrow({ select: { currency: true } }),
    db.supplier.findUniqueOrThrow({
      where: { id: supplierId },
      select: { deliveryFeeMinor: true },
    }),
    db.cylinderSize.findMany({
      select: { id: true, name: true, gasId: true, gas: { select: { name: true } } },
    }),
    readCame(deliveryId),
  ])
  const day = on?.day ?? 0
  const agreement = await readAgreementOn({ siteId, supplierId, day })
  const off = agreement?.breaks.filter(({ from }) => from <= came.length).at(-1)?.off ?? 0
  const [fillOf, terms] = await Promise.all([
    readFills({ orderId, supplierId, day, off }),
    readTermsUntil(siteId, day),
  ])
  const named = sizes.map(({ id, name, gas }) => ({ id, name, gasWords: gas.name }))
  const serials = new Set([...came.map((one) => one.serial), ...notPaid])
  const { rows, unasked, ...sums } = checkInvoice({
    rows: input.rows.map(({ what, ...row }) => ({
      ...row,
      item: itemOf(what, { sizes: named, serials }),
    })),
    received: came,
    notPaid,
    fillOf,
    depositOf: (sizeId) => terms.on({ supplierId, sizeId }, day)?.depositMinor ?? null,
    feeMinor: agreement?.feeMinor ?? supplier.deliveryFeeMinor,
    toleranceMinor: TOLERANCE_MINOR,
  })
  const whatOf = new Map(input.rows.map(({ row, what }) => [row, what]))
  return {
    ...sums,
    currency: company.currency,
    rows: rows.map((row) => ({ ...row, what: whatOf.get(row.row) ?? '' })),
    unasked: unasked.map((one) => {
      const size = sizes.find(({ id }) => id === one.sizeId)
      return { ...one, gasId: size?.gasId ?? '', sizeName: size?.name ?? one.sizeId }
    }),
  }
}
