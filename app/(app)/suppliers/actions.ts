'use server'

import type { ActionResult } from '@/lib/action-result'
import { saveAgreement, savePrice, saveSupplier } from '@/lib/data/suppliers-acts'
import { agreementSchema, priceSchema, supplierSchema } from '@/lib/schemas/supplier'
import { runAction } from '../permits/run-action'

type Saved = ActionResult<Readonly<{ id: string }>>

export async function saveSupplierAction(
  _previous: Saved | null,
  formData: FormData,
): Promise<Saved> {
  return runAction({ schema: supplierSchema, formData }, saveSupplier)
}

export async function saveAgreementAction(
  _previous: Saved | null,
  formData: FormData,
): Promise<Saved> {
  const lists = ['deliveryDays', 'breakFrom', 'breakOff']
  return runAction({ schema: agreementSchema, formData, lists }, saveAgreement)
}

export async function savePriceAction(_previous: Saved | null, formData: FormData): Promise<Saved> {
  return runAction({ schema: priceSchema, formData }, savePrice)
}
