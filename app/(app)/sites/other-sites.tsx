import Link from 'next/link'
import { useTranslations } from 'next-intl'
import type { OtherSite } from '@/lib/data/fleet'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { outWords } from './out-words'

type OthersProps = Readonly<{
  others: readonly OtherSite[]
  unseen: number
  now: Date
  prefs: FormatPrefs
}>

/** Sites with nothing as pressing as those above, a line each. */
export function OtherSites({ others, unseen, now, prefs }: OthersProps) {
  const t = useTranslations('sites')
  const todayMs = atHourOfDay(now.getTime(), prefs.timeZone, 0)
  if (others.length === 0 && unseen === 0) return null
  return (
    <section className="px-4 pt-6 desk:px-8" aria-labelledby="other-sites">
      <div className="flex flex-wrap items-baseline justify-between gap-x-6">
        <h2 id="other-sites" className="text-[16px] font-[650]">
          {t('others', { count: others.length })}
        </h2>
        {others.length > 0 ? (
          <Link className="text-link inline-block py-3" href="/sites?all=1">
            {t('drawAll')}
          </Link>
        ) : null}
      </div>
      <ul className="border-t-2 border-ink desk:columns-2 desk:gap-8 wide:columns-3">
        {others.map((other) => {
          const out = outWords(t, { day: other.shortDay, todayMs, prefs })
          return (
            <li
              key={other.id}
              className="flex min-h-12 break-inside-avoid items-center justify-between gap-4 border-b border-rule desk:min-h-[34px]"
            >
              <Link
                href={`/today?site=${other.id}`}
                className="min-w-0 truncate py-3 text-ink underline decoration-cobalt underline-offset-4 desk:py-1"
              >
                {other.name}
              </Link>
              <span className="type-note shrink-0 text-ink-2">
                {t('otherFacts', {
                  permits: other.permits,
                  past: String(out.isPast),
                  out: out.words,
                })}
              </span>
            </li>
          )
        })}
      </ul>
      {unseen > 0 ? (
        <p className="type-note pt-3 text-ink-2">{t('unseen', { count: unseen })}</p>
      ) : null}
    </section>
  )
}
