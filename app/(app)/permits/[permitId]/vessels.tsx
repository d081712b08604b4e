import { useTranslations } from 'next-intl'
import { StandingVessel } from '@/app/_components/bar/standing-vessel'
import { ButtonLink } from '@/app/_components/controls/button'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { NumberParts } from '@/app/_components/number-parts'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import { TermsTable } from '@/app/_components/terms-table'
import type { OutfitContents, OutfitSide } from '@/lib/data/outfits-contents'
import { formatClock, formatClockRange, formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, gasFigure, withUnit } from '../../jobs/figures'

type VesselsProps = Readonly<{
  contents: OutfitContents
  isRunning: boolean
  now: Date
  prefs: FormatPrefs
  swapHref: string | null
}>

/** Both vessels of the outfit side by side; each amount opens to the reading and the cuts behind it. */
export function Vessels({ contents, ...rest }: VesselsProps) {
  return (
    <section className="grid grid-cols-2 border-b border-rule">
      <Vessel side={contents.oxygen} {...rest} />
      <div className="border-l border-rule pl-0">
        <Vessel side={contents.fuel} {...rest} />
      </div>
    </section>
  )
}

type VesselProps = Omit<VesselsProps, 'contents'> & Readonly<{ side: OutfitSide }>

const VESSEL_PX = 118
/** z(0.725) / z(0.95): where the inner teeth stand inside a normal 9 in 10. */
const INNER = 0.5978 / 1.6449

function quantiles({ kg, low90Kg, high90Kg }: NonNullable<OutfitSide['contents']>) {
  return {
    p05: low90Kg,
    p275: kg - (kg - low90Kg) * INNER,
    p50: kg,
    p725: kg + (high90Kg - kg) * INNER,
    p95: high90Kg,
  }
}

export function Vessel({ side, isRunning, now, prefs, swapHref }: VesselProps) {
  const t = useTranslations('permit.vessel')
  const gasName = t(`gas.${side.gasId}` as 'gas.oxygen')
  const fullKg = side.cylinders.reduce((sum, cylinder) => sum + cylinder.nominalKg, 0)
  const { contents } = side
  return (
    <Opening>
      <div className="flex h-full flex-col px-4 py-2 desk:px-6 desk:py-3">
        <div className="-mr-3 flex flex-1 gap-2 desk:mr-0 desk:gap-3">
          <StandingVessel
            {...(contents ? { contents: quantiles(contents) } : {})}
            full={fullKg || 1}
            isRunning={isRunning && contents !== null}
            heightPx={VESSEL_PX}
          />
          <div className="min-w-0 text-[14px] leading-[18px] whitespace-nowrap [font-stretch:94%]">
            <h2 className="type-row-title">{gasName}</h2>
            <Amount side={side} fullKg={fullKg} prefs={prefs} />
            <Change side={side} now={now} prefs={prefs} />
            <Draw side={side} prefs={prefs} />
            {side.cylinders.map((cylinder) => (
              <p key={cylinder.id} className="type-ident text-ink-2">
                {cylinder.serial}
              </p>
            ))}
          </div>
        </div>
        <Source side={side} now={now} prefs={prefs} />
        {swapHref ? (
          <div className="mt-2">
            <ButtonLink isWide href={`${swapHref}?side=${side.side}`}>
              {t(side.cylinders.length > 0 ? 'swap' : 'putOn')}
            </ButtonLink>
          </div>
        ) : null}
      </div>
    </Opening>
  )
}

function Amount({
  side,
  fullKg,
  prefs,
}: Readonly<{ side: OutfitSide; fullKg: number; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.vessel')
  if (side.cylinders.length === 0) return <p className="font-semibold text-heat">{t('none')}</p>
  if (!side.contents) return <p className="font-semibold text-heat">{t('notRead')}</p>
  const { kg, low90Kg, high90Kg } = side.contents
  const figure = gasFigure(side.gasId, { meanKg: kg, low90Kg, high90Kg }, prefs)
  return (
    <>
      <OpeningNumber spoken={withUnit(figure)}>
        <NumberParts parts={[figure]} />
      </OpeningNumber>
      <p className="mt-1 text-ink-2">
        {t('of', {
          interval: figure.interval,
          full: withUnit(gasAmount(side.gasId, fullKg, prefs)),
        })}
      </p>
    </>
  )
}

function Change({
  side,
  now,
  prefs,
}: Readonly<{ side: OutfitSide; now: Date; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.vessel')
  const { change } = side
  if (!change) return null
  const isPast = formatWhen(change.middle, now, prefs) !== formatClock(change.middle, prefs)
  const pressure =
    side.changeAtGaugeKpa === null
      ? null
      : withUnit(formatQuantity('gaugePressure', side.changeAtGaugeKpa, prefs))
  const isShort = change.shortKg.mean > 0
  return (
    <>
      <p className="font-[650]">
        {isPast ? t('pastToday') : t('changeBy', { time: formatClock(change.middle, prefs) })}
      </p>
      {isPast || !pressure ? null : <p className="text-ink-2">{t('at', { pressure })}</p>}
      {isPast || !change.high ? null : (
        <p className="text-ink-2">{formatClockRange(change.low, change.high, prefs)}</p>
      )}
      {isShort ? (
        <p className="trouble gap-1!">
          <AnswerMark name="short" sizePx={14} />
          {t('short', { amount: withUnit(gasAmount(side.gasId, change.shortKg.mean, prefs)) })}
        </p>
      ) : null}
    </>
  )
}

function Draw({ side, prefs }: Readonly<{ side: OutfitSide; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.vessel')
  if (!side.draw) return null
  const draw = formatQuantity('gasFlow', side.draw.m3PerS, prefs)
  const allowed = formatQuantity('gasFlow', side.draw.allowedM3PerS, prefs)
  const isOver = side.draw.m3PerS > side.draw.allowedM3PerS
  return (
    <p className={isOver ? 'font-semibold text-heat' : undefined}>
      {t.rich('draw', {
        value: draw.value,
        allowed: allowed.value,
        unit: allowed.unit,
        b: (words) => <b className="font-[650]">{words}</b>,
        line: () => <br />,
      })}
    </p>
  )
}

function Source({
  side,
  now,
  prefs,
}: Readonly<{ side: OutfitSide; now: Date; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.vessel')
  const { contents, burntSinceReadingKg } = side
  if (!contents) return null
  const total = gasFigure(
    side.gasId,
    { meanKg: contents.kg, low90Kg: contents.low90Kg, high90Kg: contents.high90Kg },
    prefs,
  )
  const amount = (kg: number) => gasAmount(side.gasId, kg, prefs).value
  const readAt = side.cylinders
    .map((cylinder) => cylinder.lastReadingAt)
    .filter((at) => at !== null)
    .toSorted((a, b) => a.getTime() - b.getTime())[0]
  return (
    <OpeningPanel>
      <TermsTable
        title={t(`gas.${side.gasId}` as 'gas.oxygen')}
        unit={total.unit}
        terms={[
          {
            name: t('reading'),
            inputs: readAt ? formatWhen(readAt, now, prefs) : '',
            value: amount(contents.kg + burntSinceReadingKg),
          },
          {
            name: t('cutSince'),
            inputs: t('byEstimate'),
            value: `\u2212${amount(burntSinceReadingKg)}`,
          },
        ]}
        total={{ interval: total.interval, value: total.value }}
        source={t('source', { heel: withUnit(gasAmount(side.gasId, side.reserveKg, prefs)) })}
      />
    </OpeningPanel>
  )
}
