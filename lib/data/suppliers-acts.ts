import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { assertCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { AgreementInput, PriceInput, SupplierInput } from '@/lib/schemas/supplier'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const DAY_MS = 86_400_000
type Saved = Readonly<{ id: string }>

/** A supplier of the company, new or changed, by whoever orders somewhere. */
export async function saveSupplier(viewer: Viewer, input: SupplierInput): Promise<Saved> {
  assertCan(viewer, 'order:confirm', input.siteId)
  return inTransaction(viewer, 'supplier:save', (tx) =>
    once(tx, viewer, { key: input.key, action: 'supplier:save', input }, async () => {
      const { name, leadDays, orderEmail, deliveryFee: deliveryFeeMinor } = input
      const data = { name, leadDays, orderEmail, deliveryFeeMinor }
      if (input.supplierId === null) {
        const id = uuidv7()
        await tx.supplier.create({ data: { id, ...data }, select: { id: true } })
        return { id }
      }
      const { count } = await tx.supplier.updateMany({ where: { id: input.supplierId }, data })
      if (count === 0) throw new AppError('NOT_FOUND')
      return { id: input.supplierId }
    }),
  )
}

async function assertSupplier(tx: Tx, supplierId: string): Promise<void> {
  if ((await tx.supplier.count({ where: { id: supplierId } })) === 0)
    throw new AppError('NOT_FOUND')
}

/** What a site and a supplier agreed on from a day on; the row before stays for the days before. */
export async function saveAgreement(viewer: Viewer, input: AgreementInput): Promise<Saved> {
  const role = roleThen(viewer, 'order:confirm', input.siteId)
  return inTransaction(viewer, 'supplier:agree', (tx) =>
    once(tx, viewer, { key: input.key, action: 'supplier:agree', input }, async () => {
      await assertSupplier(tx, input.supplierId)
      const id = uuidv7()
      await tx.supplyAgreement.create({
        data: {
          id,
          siteId: input.siteId,
          supplierId: input.supplierId,
          leadDays: input.leadDays,
          deliveryDays: [...input.deliveryDays],
          leastCylinders: input.least,
          mostCylinders: input.most,
          deliveryFeeMinor: input.deliveryFee,
          breaks: input.breaks.map((one) => ({ ...one })),
          validFrom: input.validFrom,
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      return { id }
    }),
  )
}

/** What a supplier asks for a fill of a size from a day on; what it asked until then ends the day before. */
export async function savePrice(viewer: Viewer, input: PriceInput): Promise<Saved> {
  assertCan(viewer, 'order:confirm', input.siteId)
  return inTransaction(viewer, 'supplier:price', (tx) =>
    once(tx, viewer, { key: input.key, action: 'supplier:price', input }, async () => {
      const { supplierId, sizeId, validFrom } = input
      await assertSupplier(tx, supplierId)
      const [size, company] = await Promise.all([
        tx.cylinderSize.count({ where: { id: sizeId } }),
        tx.company.findFirstOrThrow({ select: { currency: true } }),
      ])
      if (size === 0) throw new AppError('SIZE_UNKNOWN')
      await tx.price.updateMany({
        where: {
          supplierId,
          sizeId,
          validFrom: { lt: validFrom },
          OR: [{ validUntil: null }, { validUntil: { gte: validFrom } }],
        },
        data: { validUntil: new Date(validFrom.getTime() - DAY_MS) },
      })
      const id = uuidv7()
      await tx.price.create({
        data: {
          id,
          supplierId,
          sizeId,
          fillMinor: input.fill,
          rentMinorPerDay: input.rentPerDay,
          currency: company.currency,
          validFrom,
        },
        select: { id: true },
      })
      return { id }
    }),
  )
}
