'use server'

import type { ActionResult } from '@/lib/action-result'
import { leaveRuleset, saveLocalRuleset, takeOnRuleset } from '@/lib/data/rules-acts'
import { saveCompanyLayer } from '@/lib/data/rules-company'
import { companyLayerSchema, localRulesetSchema, siteRulesetSchema } from '@/lib/schemas/rules'
import { runAction } from '../permits/run-action'

type RulesetSaved = ActionResult<{ rulesetId: string; version: number }>
type RulesetTaken = ActionResult<{ rulesetId: string }>
type CompanySaved = ActionResult<{ version: number }>

export async function saveLocalRulesetAction(
  _previous: RulesetSaved | null,
  formData: FormData,
): Promise<RulesetSaved> {
  const lists = ['precautions']
  return runAction({ schema: localRulesetSchema, formData, lists }, saveLocalRuleset)
}

export async function takeOnRulesetAction(
  _previous: RulesetTaken | null,
  formData: FormData,
): Promise<RulesetTaken> {
  return runAction({ schema: siteRulesetSchema, formData }, takeOnRuleset)
}

export async function leaveRulesetAction(
  _previous: RulesetTaken | null,
  formData: FormData,
): Promise<RulesetTaken> {
  return runAction({ schema: siteRulesetSchema, formData }, leaveRuleset)
}

export async function saveCompanyLayerAction(
  _previous: CompanySaved | null,
  formData: FormData,
): Promise<CompanySaved> {
  return runAction({ schema: companyLayerSchema, formData }, saveCompanyLayer)
}
