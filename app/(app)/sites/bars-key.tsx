import { useTranslations } from 'next-intl'
import { Bar } from '@/app/_components/bar/bar'
import type { LyingBar } from '@/app/_components/bar/lying-types'
import { rangeScale } from '@/app/_components/bar/scale'

const SCALE = rangeScale({ from: 0, to: 10, widthPx: 64 })
const NOW = 1

const KEYS: readonly (readonly [string, LyingBar])[] = [
  ['fixed', { state: 'running', end: 9 }],
  ['unknown', { state: 'running', end: { p05: 5, p275: 6.5, p50: 7.3, p725: 8.2, p95: 9.5 } }],
  ['held', { state: 'held', end: 9 }],
  ['past', { state: 'past-end', end: -3 }],
  [
    'short',
    {
      state: 'running',
      end: { p05: 3.4, p275: 4, p50: 4.6, p725: 5.2, p95: 5.8 },
      shortUntil: 9,
    },
  ],
  ['notBegun', { state: 'not-begun', start: 2, end: 9 }],
]

/** How to read the bars, under the sheet. */
export function BarsKey() {
  const t = useTranslations('sites.key')
  return (
    <section className="mt-3 px-8 pb-6">
      <h2 className="text-[14px] font-[650]">{t('title')}</h2>
      <ul className="mt-2 flex flex-wrap gap-x-7 gap-y-3 text-[14px] text-ink-2">
        {KEYS.map(([name, bar]) => (
          <li key={name} className="flex items-center gap-3">
            <Bar bar={bar} scale={SCALE} now={name === 'past' ? 4 : NOW} size="desk" />
            {t(name as 'fixed')}
          </li>
        ))}
        <li className="flex items-center gap-3">
          <svg width="12" height="8" viewBox="0 0 12 8" aria-hidden="true" focusable="false">
            <path d="M1 1h10L6 7z" fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.2" />
          </svg>
          {t('truck')}
        </li>
      </ul>
      <p className="mt-3 text-[13px] text-ink-2">{t('rest')}</p>
    </section>
  )
}
