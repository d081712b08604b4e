import { useTranslations } from 'next-intl'
import { rangeScale } from '@/app/_components/bar/scale'
import { EstimateBar } from '@/app/_components/charts/estimate-bar'

const SCALE = rangeScale({ from: 0, to: 64, widthPx: 64 })
const USED = { p05: 36, p275: 42, p50: 47, p725: 52, p95: 58 }

/** What the box, the ink and the hatch say, under the sheet. */
export function BarKey() {
  const t = useTranslations('audit.key')
  return (
    <p className="mt-3 flex flex-wrap items-center gap-x-8 gap-y-2 type-small text-ink-2">
      <span className="flex items-center gap-3">
        <EstimateBar scale={SCALE} estimate={{ low: 20, middle: 36, high: 60 }} used={USED} />
        {t('plain')}
      </span>
      <span className="flex items-center gap-3">
        <EstimateBar
          scale={SCALE}
          estimate={{ low: 6, middle: 14, high: 22 }}
          used={USED}
          isOverShown
        />
        {t('over')}
      </span>
    </p>
  )
}
