import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { FLEET_FILTERS, type FleetFilter } from '@/lib/schemas/permit'

/** The filter stands in the address, so that a sheet can be kept and sent. */
export function FleetFilters({ chosen }: Readonly<{ chosen: FleetFilter }>) {
  const t = useTranslations('sites.filters')
  return (
    <nav aria-label={t('label')} className="border-b border-rule px-4 desk:border-b-0 desk:px-8">
      <ul className="flex gap-5 overflow-x-auto">
        {FLEET_FILTERS.map((filter) => (
          <li key={filter}>
            <Link
              href={filter === 'all' ? '/sites' : `/sites?show=${filter}`}
              aria-current={filter === chosen ? 'true' : undefined}
              className="block min-h-12 content-center border-b-4 border-transparent whitespace-nowrap text-ink aria-[current]:border-cobalt aria-[current]:font-[650] desk:min-h-8"
            >
              {t(filter)}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  )
}
