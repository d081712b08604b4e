import { useTranslations } from 'next-intl'
import type { RuleSource } from '@/lib/rules/layer-card'
import type { LayerId } from '@/lib/rules/types'

/** A ruleset's name: a typed-in one carries its own. */
export function LayerName({ id, label }: Readonly<{ id: LayerId; label: string }>) {
  const t = useTranslations('rules.layers')
  return t.has(id as 'company') ? t(id as 'company') : label
}

/** Where a rule stands, its edition, and whether the text was read. */
export function SourceWords({ source }: Readonly<{ source: RuleSource }>) {
  const t = useTranslations('rules')
  const { citation, edition, provenance } = source
  return (
    <span className="block">
      {t('source', { citation, edition })}{' '}
      {provenance === 'memory' ? (
        <b className="font-semibold text-heat">{t('provenance.memory')}</b>
      ) : (
        t('provenance.read')
      )}
      .
    </span>
  )
}
