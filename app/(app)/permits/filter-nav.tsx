import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { PERMIT_FILTERS, type PermitFilter } from '@/lib/schemas/permit'

/** The filter stands in the address, so that a list can be kept and sent. */
export function FilterNav({ siteId, chosen }: Readonly<{ siteId: string; chosen: PermitFilter }>) {
  const t = useTranslations('permit.filters')
  return (
    <nav
      aria-label={t('label')}
      className="border-b border-rule px-4 desk:mb-3 desk:border-b-0 desk:px-8"
    >
      <ul className="flex gap-5 overflow-x-auto">
        {PERMIT_FILTERS.map((filter) => (
          <li key={filter}>
            <Link
              href={`/permits?site=${siteId}&show=${filter}`}
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
