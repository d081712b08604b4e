import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Button } from '@/app/_components/controls/button'
import type { CylinderCount } from '@/lib/data/cylinders-list'
import type { CylinderFilter, CylinderStatus } from '@/lib/schemas/cylinder'

type Filters = Readonly<{
  counts: readonly CylinderCount[]
  filter: CylinderFilter
  siteId: string
}>

/** Gas and status as links, so that the address says what is shown and can be sent to somebody. */
export function CylinderFilters({ counts, filter, siteId }: Filters) {
  const t = useTranslations('cylinders')
  const gases = sums(
    counts.filter((row) => !filter.status || row.status === filter.status),
    (row) => row.gasId,
  )
  const statuses = sums(
    counts.filter((row) => !filter.gas || row.gasId === filter.gas),
    (row) => row.status,
  )
  const href = (gas: string | null, status: string | null) => {
    const query = new URLSearchParams({
      site: siteId,
      ...(gas ? { gas } : {}),
      ...(status ? { status } : {}),
      ...(filter.part ? { part: filter.part } : {}),
    })
    return `/cylinders?${query}`
  }
  return (
    <nav
      aria-label={t('filters')}
      className="flex flex-col gap-1 border-b border-rule px-4 py-2 desk:flex-row desk:pt-0 desk:gap-12 desk:px-8"
    >
      <form action="/cylinders" className="flex items-center gap-2">
        <input type="hidden" name="site" value={siteId} />
        {filter.gas ? <input type="hidden" name="gas" value={filter.gas} /> : null}
        {filter.status ? <input type="hidden" name="status" value={filter.status} /> : null}
        <label className="type-small text-ink-2" htmlFor="serial-part">
          {t('serialPart')}
        </label>
        <span className="field-box w-36">
          <input
            id="serial-part"
            name="part"
            type="search"
            defaultValue={filter.part ?? ''}
            maxLength={40}
            autoComplete="off"
            className="type-ident uppercase"
          />
        </span>
        <Button type="submit" isRow>
          {t('search')}
        </Button>
      </form>
      <FilterLine name={t('gasHead')}>
        <FilterLink href={href(null, filter.status)} isChosen={!filter.gas} words={t('all')} />
        {gases.map(([gas, count]) => (
          <FilterLink
            key={gas}
            href={href(gas, filter.status)}
            isChosen={filter.gas === gas}
            words={`${t(`gas.${gas}` as 'gas.oxygen')} ${count}`}
          />
        ))}
      </FilterLine>
      <FilterLine name={t('statusHead')}>
        <FilterLink href={href(filter.gas, null)} isChosen={!filter.status} words={t('all')} />
        {statuses.map(([status, count]) => (
          <FilterLink
            key={status}
            href={href(filter.gas, status)}
            isChosen={filter.status === status}
            words={`${t(`status.${status as CylinderStatus}`)} ${count}`}
          />
        ))}
      </FilterLine>
    </nav>
  )
}

function sums(
  counts: readonly CylinderCount[],
  key: (row: CylinderCount) => string,
): [string, number][] {
  const byKey = new Map<string, number>()
  for (const row of counts) byKey.set(key(row), (byKey.get(key(row)) ?? 0) + row.count)
  return [...byKey]
}

function FilterLine({ name, children }: Readonly<{ name: string; children: React.ReactNode }>) {
  return (
    <div className="flex items-center gap-x-4 overflow-x-auto">
      <span className="type-small text-ink-2">{name}</span>
      {children}
    </div>
  )
}

function FilterLink({
  href,
  isChosen,
  words,
}: Readonly<{ href: string; isChosen: boolean; words: string }>) {
  return (
    <Link
      href={href}
      aria-current={isChosen ? 'true' : undefined}
      className={`flex min-h-12 items-center whitespace-nowrap border-b-4 text-[16px] desk:min-h-8 desk:text-[14px] ${isChosen ? 'border-cobalt font-semibold text-ink' : 'border-transparent text-cobalt'}`}
    >
      {words}
    </Link>
  )
}
