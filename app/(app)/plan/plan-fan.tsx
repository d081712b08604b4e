import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import type { PlanFan } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { dayOf } from './day-of'
import { FAN, fanShapes } from './fan-geometry'
import { HowForecast } from './how-forecast'
import { percentWords } from './percent-words'

const TOLD = 0.1
const one = (value: number) => (Math.round(value * 10) / 10).toLocaleString('en-US')

/** What is left of one gas at one site, as a fan, with what comes and the chance of being out under each day. */
export function PlanFanChart({ fan }: Readonly<{ fan: PlanFan }>) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const shapes = fanShapes(fan.left, fan.gas.full + fan.gas.openCylinders)
  const days = fan.left.map((_, day) => dayOf(fan.site.today, day))
  const out = fan.chance.findIndex((chance) => chance >= TOLD)
  const heading = t('fanTitle', {
    site: fan.site.name,
    gas: g(fan.gas.gasId as 'oxygen'),
    size: fan.gas.sizeName,
  })
  const sentence =
    out < 0
      ? t('fanCovered', { days: days.length })
      : t('fanOut', {
          percent: percentWords(fan.chance[out] ?? 0),
          day: formatDay(days[out] ?? 0, { timeZone: 'UTC' }),
        })
  return (
    <section aria-label={heading}>
      <div className="flex flex-wrap items-baseline justify-between gap-x-6 border-b-2 border-ink pb-1">
        <h2 className="type-section">{heading}</h2>
        <p className="type-small text-ink-2">{t('fanKey')}</p>
      </div>
      <p className={`py-2 ${out < 0 ? '' : 'font-[650] text-heat'}`}>{sentence}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: wider than a phone, so keys must be able to scroll it */}
      <section className="overflow-x-auto" aria-label={t('fanDrawn')} tabIndex={0}>
        <svg
          viewBox={`0 0 ${FAN.width} ${FAN.height}`}
          className="block h-auto w-full min-w-[640px]"
          aria-hidden="true"
        >
          {shapes.ticks.map(({ y, value }) => (
            <g key={value}>
              <line
                x1={FAN.left}
                x2={FAN.width - FAN.right}
                y1={y}
                y2={y}
                stroke="var(--rule)"
                strokeWidth={1}
              />
              <text x={FAN.left - 8} y={y + 5} textAnchor="end" fontSize={15} fill="var(--ink-2)">
                {value}
              </text>
            </g>
          ))}
          <path d={shapes.pale} fill="var(--fan-pale)" />
          <path d={shapes.dark} fill="var(--fan-dark)" />
          <path d={shapes.low} fill="none" stroke="var(--ink-3)" strokeWidth={1} />
          <path d={shapes.middle} fill="none" stroke="var(--ink)" strokeWidth={2.5} />
          <line
            x1={FAN.left}
            x2={FAN.width - FAN.right}
            y1={shapes.floorY}
            y2={shapes.floorY}
            stroke="var(--ink)"
            strokeWidth={3}
          />
          {fan.comes.map(({ day, quantity, kind }) => (
            <g key={`${day}${kind}${quantity}`}>
              <path
                d={`M${shapes.xOf(day) - 7} ${FAN.top - 22}h14l-7 11Z`}
                fill="none"
                stroke="var(--ink)"
                strokeWidth={2}
              />
              <text
                x={Math.min(shapes.xOf(day) + 11, FAN.width - 84)}
                y={FAN.top - 11}
                fontSize={15}
                fontWeight={650}
                fill="var(--ink)"
              >
                {t(`comes.${kind}`, { quantity })}
              </text>
            </g>
          ))}
          {days.map((day, i) =>
            i % 2 === 0 ? (
              <text
                key={day}
                x={shapes.xOf(i)}
                y={FAN.height - 8}
                textAnchor="middle"
                fontSize={15}
                fill="var(--ink-2)"
              >
                {formatDay(day, { timeZone: 'UTC' }).replace(/ \w+$/, '')}
              </text>
            ) : null,
          )}
        </svg>
      </section>
      <details className="mt-2">
        <summary className="min-h-12 content-center text-cobalt underline desk:min-h-8">
          {t('fanTable')}
        </summary>
        <DataTable
          caption={heading}
          isWide
          head={
            <>
              <Column>{t('day')}</Column>
              <Column isFigure>{t('left')}</Column>
              <Column isFigure>{t('leftInterval')}</Column>
              <Column isFigure>{t('chanceOut')}</Column>
              <Column isFigure>{t('chanceNothing')}</Column>
            </>
          }
        >
          <tbody>
            {days.map((day, i) => (
              <tr key={day}>
                <td className="whitespace-nowrap">{formatDay(day, { timeZone: 'UTC' })}</td>
                <td className="is-figure">{t('about', { value: one(fan.left[i]?.[2] ?? 0) })}</td>
                <td className="is-interval">
                  {one(fan.left[i]?.[0] ?? 0)}–{one(fan.left[i]?.[4] ?? 0)}
                </td>
                <td className="is-figure">{percentWords(fan.chance[i] ?? 0)}</td>
                <td className="is-figure">{percentWords(fan.chanceNothing[i] ?? 0)}</td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </details>
      <HowForecast gases={[fan.gas.forecast]} />
    </section>
  )
}
