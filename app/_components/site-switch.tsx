import Link from 'next/link'
import { useTranslations } from 'next-intl'

type Place = Readonly<{ id: string; name: string }>

/** Which site this is, and the way to the viewer's others. Without others it is only a name. */
export function SiteSwitch({
  site,
  others,
  path,
}: Readonly<{ site: Place; others: readonly Place[]; path: string }>) {
  const t = useTranslations('jobs')
  if (others.length === 0) return <span>{site.name}</span>
  return (
    <details className="relative inline-block">
      <summary className="inline-block min-h-6 cursor-pointer list-none border-b-2 border-dotted border-cobalt">
        {site.name}
        <span className="sr-only">. {t('otherSite')}</span>
      </summary>
      <ul className="absolute left-0 z-20 mt-1 w-64 border-2 border-ink bg-paper">
        {others.map((other) => (
          <li key={other.id} className="border-b border-rule last:border-b-0">
            <Link
              href={`${path}?site=${other.id}`}
              className="block px-3 py-3 text-[16px] leading-[22px] text-ink"
            >
              {other.name}
            </Link>
          </li>
        ))}
      </ul>
    </details>
  )
}
