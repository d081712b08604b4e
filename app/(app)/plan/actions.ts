'use server'

import { getTranslations } from 'next-intl/server'
import { sheetFiles } from '@/app/api/plan/sheet/sheet-files'
import type { ActionResult } from '@/lib/action-result'
import { commitSupply, endCommitment } from '@/lib/data/plan/commitments'
import { delayOrder } from '@/lib/data/plan/late-orders'
import { sendSheet } from '@/lib/data/plan/send-sheet'
import type { OrderSheet } from '@/lib/data/plan/sheets'
import { env } from '@/lib/env'
import { sendMail } from '@/lib/mail'
import { commitSchema, endCommitmentSchema } from '@/lib/schemas/commitment'
import { delayOrderSchema } from '@/lib/schemas/order'
import { sendSheetSchema } from '@/lib/schemas/send-sheet'
import { runAction } from '../permits/run-action'

export type Committed = ActionResult<{ id: string }>

/** Confirms a move or a return; the plan is made around it from then on. */
export async function commitSupplyAction(
  _previous: Committed | null,
  formData: FormData,
): Promise<Committed> {
  return runAction({ schema: commitSchema, formData, lists: ['sizeId', 'quantity'] }, commitSupply)
}

export async function endCommitmentAction(
  _previous: Committed | null,
  formData: FormData,
): Promise<Committed> {
  return runAction({ schema: endCommitmentSchema, formData }, endCommitment)
}

export type Delayed = ActionResult<{ id: string; dueOn: string }>

/** Takes down a supplier's word that an order comes later. */
export async function delayOrderAction(
  _previous: Delayed | null,
  formData: FormData,
): Promise<Delayed> {
  return runAction({ schema: delayOrderSchema, formData }, delayOrder)
}

export type SheetMailed = ActionResult<{ sentTo: string; orders: number }>

async function mailOf(sheet: OrderSheet) {
  const t = await getTranslations('plan.sheet')
  const { pdf, csv, lines } = await sheetFiles(sheet)
  return {
    subject: t('subject', { company: sheet.companyName, day: sheet.printedOn }),
    text: lines.join('\n'),
    attachments: [
      { name: pdf.name, type: 'application/pdf', bytes: pdf.bytes },
      { name: csv.name, type: 'text/csv; charset=utf-8', bytes: csv.text },
    ],
  }
}

/** Mails a supplier's order sheet, PDF and CSV; shown only where a mail server is set. */
export async function sendSheetAction(
  _previous: SheetMailed | null,
  formData: FormData,
): Promise<SheetMailed> {
  const url = env.SMTP_URL
  return runAction({ schema: sendSheetSchema, formData }, (viewer, input) =>
    sendSheet(viewer, input, {
      compose: mailOf,
      deliver: url ? (mail) => sendMail(url, mail) : null,
      from: env.MAIL_FROM ?? null,
    }),
  )
}
