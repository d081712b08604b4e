import { useTranslations } from 'next-intl'
import { StandingVessel } from '@/app/_components/bar/standing-vessel'
import { NumberParts } from '@/app/_components/number-parts'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import { FactList } from '@/app/_components/row'
import type { CylinderDetail } from '@/lib/data/cylinders'
import { formatDate, formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, withUnit } from '../../jobs/figures'
import { contentsFigure } from '../contents-figure'
import { DueWords, WhereWords } from '../cylinder-words'
import { ContentsTerms } from './contents-terms'

type Facts = Readonly<{ cylinder: CylinderDetail; prefs: FormatPrefs }>

const VESSEL_PX = 120
// Calendar days are kept at midnight UTC and mean the same in every zone.
const CALENDAR = { timeZone: 'UTC' } as const

/** The vessel with what is in it, the number that opens, and its standing facts. */
export function CylinderFacts({ cylinder, prefs }: Facts) {
  const t = useTranslations('cylinders')
  const { contents, size } = cylinder
  const figure = contentsFigure(cylinder, prefs)
  const nominal = withUnit(gasAmount(cylinder.gasId, size.nominalKg, prefs))
  const amount = figure ? `${figure.value}\u00a0${figure.unit}` : t('unknownContents')
  return (
    <section className="border-b border-rule pb-2" aria-label={t('contents')}>
      <Opening>
        <div className="flex items-end gap-6 px-4 pt-2 desk:px-0">
          <StandingVessel
            heightPx={VESSEL_PX}
            full={size.nominalKg}
            isRunning={cylinder.status === 'in_use'}
            {...(contents
              ? {
                  contents: {
                    p05: contents.low90Kg,
                    p275: contents.p275Kg,
                    p50: contents.kg,
                    p725: contents.p725Kg,
                    p95: contents.high90Kg,
                  },
                }
              : {})}
          />
          <div>
            {figure ? (
              <OpeningNumber spoken={t('spoken', { amount })}>
                <NumberParts size="row" before={t('about')} parts={[figure]} />
              </OpeningNumber>
            ) : (
              <p className="type-row-title">{t('notRead')}</p>
            )}
            <p className="type-note text-ink-2">
              {figure
                ? t('ofNominal', { interval: `${figure.interval}\u00a0${figure.unit}`, nominal })
                : null}
            </p>
            <p className="type-note">{changeWords(cylinder, prefs, t)}</p>
            <p className="type-note text-ink-2">
              {cylinder.lastReadingAt
                ? t('readAt', { when: formatDayClock(cylinder.lastReadingAt, prefs) })
                : t('asDelivered')}
            </p>
          </div>
        </div>
        <OpeningPanel>
          {cylinder.chain ? (
            <ContentsTerms contents={cylinder.chain} gasId={cylinder.gasId} prefs={prefs} />
          ) : (
            <p className="type-note">{t('noChain')}</p>
          )}
          <p className="mt-1 type-small text-ink-2">{t('sizeSource', { source: size.source })}</p>
        </OpeningPanel>
      </Opening>
      <div className="desk:-mx-4">
        <FactList facts={standingFacts(cylinder, prefs, t)} />
      </div>
    </section>
  )
}

type Translate = ReturnType<typeof useTranslations<'cylinders'>>

function changeWords(cylinder: CylinderDetail, prefs: FormatPrefs, t: Translate): string {
  if (cylinder.changeAtGaugeKpa !== null)
    return t('changeAt', {
      pressure: withUnit(formatQuantity('gaugePressure', cylinder.changeAtGaugeKpa, prefs)),
    })
  return t('changeAtHeel', { heel: withUnit(gasAmount(cylinder.gasId, cylinder.reserveKg, prefs)) })
}

function standingFacts(cylinder: CylinderDetail, prefs: FormatPrefs, t: Translate) {
  const day = (date: Date | null) => (date ? formatDate(date, CALENDAR) : t('noDay'))
  return [
    { name: t('where'), value: cylinder.siteId ? <WhereWords cylinder={cylinder} /> : t('gone') },
    { name: t('due'), value: <DueWords cylinder={cylinder} /> },
    { name: t('tested'), value: day(cylinder.requalifiedOn) },
    { name: t('filled'), value: day(cylinder.filledOn) },
    { name: t('spec'), value: cylinder.spec || t('noDay') },
    {
      name: t('tare'),
      value:
        cylinder.tareKg === null
          ? t('tareOfSize')
          : withUnit(formatQuantity('smallMass', cylinder.tareKg, prefs)),
    },
    {
      name: t('owner'),
      value:
        cylinder.ownership === 'owned'
          ? t('owned')
          : t('rented', { supplier: cylinder.supplierName ?? '' }),
    },
    ...(cylinder.arrivedAt
      ? [{ name: t('here'), value: formatDayClock(cylinder.arrivedAt, prefs) }]
      : []),
  ]
}
