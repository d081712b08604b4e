import { useTranslations } from 'next-intl'
import { Fragment } from 'react'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { StoreCitation } from '@/app/_components/rules/store-citation'
import { convert } from '@/lib/calc/units'
import type { TripPage } from '@/lib/data/gear/trips'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'
import { TRIP_BODIES, TRIP_NEED_RULES } from '@/lib/rules/trip'

type WordsProps = Readonly<{ trip: TripPage; prefs: FormatPrefs }>

const massOf = (lb: number, prefs: FormatPrefs) =>
  joinQuantity(formatQuantity('mass', convert({ value: lb, from: 'lb', to: 'kg' }), prefs))

/** What the load is on the road: each limit with its paragraph, and what it needs instead. */
export function LoadVerdict({ trip, prefs }: WordsProps) {
  const t = useTranslations('trips')
  const { verdict } = trip
  return (
    <section aria-live="polite">
      <h2 className="type-section border-b-2 border-ink pb-1">
        {t('gross', { mass: massOf(verdict.aggregateLb, prefs) })}
      </h2>
      <p className={`py-2 font-[650] ${verdict.isMaterialOfTrade ? '' : 'text-heat'}`}>
        {t(verdict.isMaterialOfTrade ? 'isTrade' : 'notTrade')}
      </p>
      <ul>
        {verdict.findings.map((one) => (
          <li key={one.code} className="flex items-center gap-3 border-b border-rule py-2">
            <AnswerMark name={one.verdict === 'ok' ? 'done' : 'refused'} />
            <span className="flex-1 desk:flex desk:justify-between desk:gap-3">
              <span className="block">{t(`findings.${one.code as 'purpose'}`)}</span>
              <StoreCitation ruleId={one.ruleId} />
            </span>
          </li>
        ))}
        {TRIP_BODIES.map((body) => ({ body, mostLb: trip.payloadLb[body] })).map(
          ({ body, mostLb }) =>
            mostLb === null ? null : (
              <li
                key={`${body}-payload`}
                className="flex items-center gap-3 border-b border-rule py-2"
              >
                <AnswerMark name={verdict.grossLb[body] <= mostLb ? 'done' : 'refused'} />
                <span className="flex-1">
                  {t('payloadHead', {
                    body: t(`on.${body}`),
                    mass: massOf(verdict.grossLb[body], prefs),
                    most: massOf(mostLb, prefs),
                  })}
                </span>
              </li>
            ),
        )}
        {TRIP_BODIES.filter((body) => verdict.grossLb[body] > 0).map((body) => (
          <li key={body} className="flex items-center gap-3 border-b border-rule py-2">
            <AnswerMark name={verdict.placarded.includes(body) ? 'due' : 'done'} />
            <span className="flex-1 desk:flex desk:justify-between desk:gap-3">
              <span className="block">
                {t(verdict.placarded.includes(body) ? 'placarded' : 'unplacarded', {
                  body: t(`on.${body}`),
                  mass: massOf(verdict.grossLb[body], prefs),
                })}
              </span>
              <StoreCitation ruleId="dot-placard-1001" />
            </span>
          </li>
        ))}
      </ul>
      {trip.hazards.length > 0 ? (
        <>
          <h3 className="mt-3 font-[600]">{t('hazards.title')}</h3>
          <ul>
            {trip.hazards.map((one) => (
              <li key={`${one.hazard} ${one.body}`} className="border-b border-rule py-1.5">
                {t('hazards.total', {
                  hazard: t(`hazards.kind.${one.hazard}`),
                  un: one.un.map((number) => `UN${number}`).join(', '),
                  count: one.cylinders,
                  mass: massOf(one.grossLb, prefs),
                  body: t(`on.${one.body}`),
                })}
              </li>
            ))}
          </ul>
          <p className="type-small text-ink-2">{t('hazards.source')}</p>
        </>
      ) : null}
      {verdict.needs.length > 0 ? (
        <>
          <h3 className="mt-3 font-[600]">{t('needed')}</h3>
          <ul className="list-disc pl-5">
            {verdict.needs.map((need) => (
              <li key={need}>
                {need === 'trainedDriver'
                  ? t(trip.isDriverTrained ? 'driverIs' : 'driverIsNot', {
                      driver: trip.driverName,
                    })
                  : t(`needs.${need}`)}{' '}
                {TRIP_NEED_RULES[need].map((ruleId) => (
                  <Fragment key={ruleId}>
                    <StoreCitation ruleId={ruleId} />{' '}
                  </Fragment>
                ))}
              </li>
            ))}
          </ul>
        </>
      ) : null}
    </section>
  )
}

export function LoadItems({ trip, prefs }: WordsProps) {
  const t = useTranslations('trips')
  const g = useTranslations('permit.vessel.gas')
  return (
    <section className="mt-6">
      <h2 className="type-section border-b-2 border-ink pb-1">
        {t('onIt', { count: trip.items.filter((item) => !item.isOff).length })}
      </h2>
      <ul>
        {trip.items.map((item) => (
          <li
            key={item.id}
            className={`border-b border-rule py-2 ${item.isOff ? 'text-ink-2' : ''}`}
          >
            <span className="type-ident">{item.serial}</span>{' '}
            {t('item', {
              gas: g(item.gasId as 'oxygen'),
              size: item.sizeName,
              body: t(`on.${item.body}`),
              mass: joinQuantity(formatQuantity('mass', item.grossKg, prefs)),
              weighed: item.isWeighed ? 'yes' : 'no',
              empty: item.isEmpty ? 'yes' : 'no',
              off: item.isOff ? 'yes' : 'no',
            })}
          </li>
        ))}
      </ul>
    </section>
  )
}
