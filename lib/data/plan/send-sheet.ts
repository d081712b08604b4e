import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { log } from '@/lib/log'
import type { Mail } from '@/lib/mail'
import type { SendSheetInput } from '@/lib/schemas/send-sheet'
import { db } from '../client'
import { once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction } from '../tx'
import { getOrderSheet, type OrderSheet } from './sheets'

export type Sending = Readonly<{
  /** The sheet in words, as it is attached. */
  compose: (sheet: OrderSheet) => Promise<Pick<Mail, 'subject' | 'text' | 'attachments'>>
  /** Null where no server is set. */
  deliver: ((mail: Mail) => Promise<void>) | null
  /** Whom mails come from; null: who sends them. */
  from: string | null
}>

/** Mails what is ordered from a supplier and has not come, of the sites that the viewer orders for; kept with whom it went to. */
export async function sendSheet(
  viewer: Viewer,
  input: SendSheetInput,
  { compose, deliver, from }: Sending,
): Promise<{ sentTo: string; orders: number }> {
  const sheet = await getOrderSheet(viewer, input.supplierId, 'order:confirm')
  const [first] = sheet.orders
  if (!first) throw new AppError('NOTHING_TO_SEND', { supplier: sheet.supplierName })
  const role = roleThen(viewer, 'order:confirm', first.siteId)
  const [known, person] = await Promise.all([
    db.supplier.findUnique({ where: { id: input.supplierId }, select: { orderEmail: true } }),
    db.person.findUnique({ where: { id: viewer.personId }, select: { email: true } }),
  ])
  const to = known?.orderEmail
  if (!to || !person) throw new AppError('NO_ORDER_EMAIL', { supplier: sheet.supplierName })
  if (!deliver) throw new AppError('MAIL_NOT_SET')
  const composed = await compose(sheet)
  return inTransaction(viewer, 'sheet:send', (tx) =>
    once(tx, viewer, { key: input.key, action: 'sheet:send', input }, async () => {
      await tx.sheetSent.create({
        data: {
          id: uuidv7(),
          supplierId: input.supplierId,
          sentTo: to,
          orderIds: sheet.orders.map((order) => order.id),
          personId: viewer.personId,
          roleThen: role,
        },
        select: { id: true },
      })
      // Last, so that a mail that can't be handed over leaves no record of having gone.
      try {
        await deliver({ ...composed, to, from: from ?? person.email, replyTo: person.email })
      } catch (error) {
        log.warn({ err: error }, 'mail.failed')
        throw new AppError('MAIL_FAILED', { to })
      }
      return { sentTo: to, orders: sheet.orders.length }
    }),
  )
}
