import { useTranslations } from 'next-intl'
import type { GasForecast } from '@/lib/data/forecast'
import { percentWords } from './percent-words'

type HowProps = Readonly<{ gases: readonly GasForecast[] }>

/** By what each gas is forecast, and how that did on past weeks: its kind of use, method, bias and coverage. */
export function HowForecast({ gases }: HowProps) {
  const t = useTranslations('plan.howForecast')
  const a = useTranslations('plan.accuracy')
  const g = useTranslations('permit.vessel.gas')
  const judgedWords = ({ judged }: GasForecast['learned']) => {
    if (!judged) return t('notYet')
    const held = {
      weeks: judged.windows,
      held: percentWords(judged.held.share),
      low: percentWords(judged.held.low),
      high: percentWords(judged.held.high),
    }
    return judged.bias === null
      ? t('judgedNoUse', held)
      : t('judged', { ...held, bias: judged.bias.toFixed(2) })
  }
  return (
    <div className="mt-4 type-small text-ink-2">
      <h3 className="font-[650] text-ink">{t('title')}</h3>
      <ul>
        {gases.map(({ siteId, gasId, learned }) => (
          <li key={`${siteId}${gasId}`}>
            {learned.startsFrom === null
              ? t('by', {
                  gas: g(gasId as 'oxygen'),
                  kind: a(`class.${learned.demandClass}`),
                  method: a(`method.${learned.method}`),
                })
              : t('startsFrom', { gas: g(gasId as 'oxygen'), sites: learned.startsFrom })}{' '}
            {judgedWords(learned)}
          </li>
        ))}
      </ul>
    </div>
  )
}
