import { useTranslations } from 'next-intl'
import { isMaterialCode, MATERIALS } from '@/lib/calc/materials'

/** That a metal is not cut by the table, why, and what instead. */
export function MetalWords({ material }: Readonly<{ material: string }>) {
  const t = useTranslations('jobs')
  if (!isMaterialCode(material)) return null
  const { cuttable, because, instead } = MATERIALS[material]
  if (cuttable) return null
  return (
    <p className="consequence" role="status">
      <span>
        {t('refused.heading')} {because ? t(`because.${because}`) : null}{' '}
        {t('refused.instead', { list: instead.map((code) => t(`instead.${code}`)).join(', ') })}
      </span>
    </p>
  )
}
