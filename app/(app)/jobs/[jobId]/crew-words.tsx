import { useTranslations } from 'next-intl'
import type { CrewUsed } from '@/lib/data/crew-factors'
import { formatNumber } from '@/lib/format/numbers'

/** "this crew runs 1.18 ± 0.07 of the table, from 6 jobs", or whose record stands in for it. */
export function useCrewWords(): (crew: CrewUsed | null) => string {
  const t = useTranslations('jobs')
  return (crew) =>
    crew === null
      ? t('crewNone')
      : t(crew.isOwn ? 'crewKnown' : 'crewFleet', {
          factor: formatNumber(crew.mean, 2),
          doubt: formatNumber(crew.standardUncertainty, 2),
          jobs: crew.jobs,
        })
}
