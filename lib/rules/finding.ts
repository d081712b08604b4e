import type { StoreRuleId, StoreScope } from './store-catalogue'
import { STORE_RULES } from './store-catalogue'
import type { LayerId } from './types'

export type FindingVerdict = 'ok' | 'not_ok' | 'judgement'

/** What one rule says of a store, a cylinder or a load: `code` names the point, `params` its numbers. */
export interface StoreFinding {
  code: string
  ruleId: StoreRuleId
  verdict: FindingVerdict
  params: Readonly<Record<string, number | string>>
}

export function finding(
  code: string,
  ruleId: StoreRuleId,
  isOk: boolean,
  params: StoreFinding['params'] = {},
): StoreFinding {
  return { code, ruleId, verdict: isOk ? 'ok' : 'not_ok', params }
}

/** A number that is known and at least so much; one that nobody measured is not. */
export function isAtLeast(value: number | null, least: number): boolean {
  return value !== null && Number.isFinite(value) && value >= least
}

/** A number that is known and at most so much. */
export function isAtMost(value: number | null, most: number): boolean {
  return value !== null && Number.isFinite(value) && value <= most
}

/** Which rules of the stores and roads hold where these layers do; local and foreign ones only when asked for. */
export function storeScopes(
  layers: readonly LayerId[],
  more: readonly StoreScope[] = [],
): ReadonlySet<StoreScope> {
  const isUs = layers.some((id) => id.startsWith('us-'))
  return new Set<StoreScope>([
    ...layers,
    'always',
    ...(isUs ? (['always-us', 'us-dot'] as const) : []),
    ...more,
  ])
}

/** The findings of rules that hold there; the rest are other people's texts. */
export function findingsInForce(
  findings: readonly StoreFinding[],
  scopes: ReadonlySet<StoreScope>,
): StoreFinding[] {
  return findings.filter((one) =>
    (STORE_RULES[one.ruleId].scopes as readonly StoreScope[]).some((scope) => scopes.has(scope)),
  )
}

/** Whether a text, by the layer it belongs to, is met: every finding of its rules is ok. */
export function isMet(findings: readonly StoreFinding[], scope: StoreScope): boolean {
  const own = findingsInForce(findings, new Set([scope]))
  return own.length > 0 && own.every((one) => one.verdict === 'ok')
}
