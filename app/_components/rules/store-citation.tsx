import { useTranslations } from 'next-intl'
import { STORE_RULES, type StoreRuleId } from '@/lib/rules/store-catalogue'

/** The paragraph a rule of stores and roads stands in, and whether anybody read it. */
export function StoreCitation({ ruleId }: Readonly<{ ruleId: StoreRuleId }>) {
  const t = useTranslations('storage')
  const { citation, provenance } = STORE_RULES[ruleId]
  return (
    <span className="type-small text-ink-2">
      {provenance === 'read' ? citation : `${citation}, ${t('memory')}`}
    </span>
  )
}
