import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { Column, DataTable } from '@/app/_components/data-table'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { PermitRecord } from '@/lib/data/records/record'
import { formatClock, formatDayClock } from '@/lib/format/clock'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { keepWords } from './keep-words'

type ProofProps = Readonly<{ record: PermitRecord; prefs: FormatPrefs }>

/** What proves the record: the last check of the site's entries, who signed, what was corrected or sent late. */
export function Proof({ record, prefs }: ProofProps) {
  const t = useTranslations('record.proof')
  const all = useTranslations('record')
  const { signedBy, gasTest, corrections, sentLate } = record
  return (
    <section className="type-desk">
      <h2 className="border-b-2 border-ink pb-1 text-[13px] leading-[18px] font-[600] text-ink-2">
        {t('title')}
      </h2>
      <Verdict record={record} prefs={prefs} />
      <dl>
        <Pair name={t('signedBy')}>
          {signedBy.length === 0
            ? t('none')
            : signedBy.map((one) => (
                <span key={one.name} className="block">
                  {t('times', one)}
                </span>
              ))}
        </Pair>
        <Pair name={t('keep')}>{keepWords(record, all as never, prefs)}</Pair>
        <Pair name={t('corrections')}>{corrections || t('none')}</Pair>
        <Pair name={t('sentLate')}>{sentLate || t('none')}</Pair>
        <Pair name={t('gasTest')}>
          {gasTest ? <GasTest test={gasTest} prefs={prefs} /> : t('none')}
        </Pair>
      </dl>
    </section>
  )
}

function Verdict({ record, prefs }: ProofProps) {
  const t = useTranslations('record.proof')
  const { verdict } = record
  if (!verdict) return <p className="py-3">{t('notChecked')}</p>
  if (!verdict.ok)
    return (
      <p className="py-3 text-heat">
        <b className="inline-flex items-center gap-2 align-bottom">
          <AnswerMark name="refused" />
          {t('altered', { seq: verdict.firstBadSeq ?? 0 })}
        </b>{' '}
        {t('alteredNote')}
      </p>
    )
  const { lastHash } = verdict
  return (
    <p className="py-3">
      <b className="inline-flex items-center gap-2 align-bottom font-[650]">
        <AnswerMark name="done" />
        {t('unaltered')}
      </b>{' '}
      {t('checked', {
        last: formatNumber(verdict.lastSeq),
        time: formatDayClock(verdict.checkedAt, prefs),
        code: '',
      })}
      <span className="type-ident">{`${lastHash.slice(0, 6)}…${lastHash.slice(-2)}`}</span>
    </p>
  )
}

function Pair({ name, children }: Readonly<{ name: string; children: ReactNode }>) {
  return (
    <div className="grid grid-cols-[96px_1fr] gap-3 border-t border-rule py-1.5">
      <dt className="text-ink-2">{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

function GasTest({
  test,
  prefs,
}: Readonly<{ test: NonNullable<PermitRecord['gasTest']>; prefs: FormatPrefs }>) {
  const t = useTranslations('record.details')
  const parts = [
    t('gas', { oxygen: test.oxygenPct, lel: test.lelPct }),
    test.coPpm === null ? null : t('co', { value: test.coPpm }),
    test.h2sPpm === null ? null : t('h2s', { value: test.h2sPpm }),
  ]
  return <>{`${formatClock(test.at, prefs)}. ${parts.filter(Boolean).join(', ')}`}</>
}

/** Minutes of watch that each layer asked for on the day the permit was issued. */
export function RulesThen({ record }: Readonly<{ record: PermitRecord }>) {
  const t = useTranslations('record.proof')
  if (record.rules.length === 0) return null
  return (
    <DataTable
      caption={t('rules')}
      head={
        <>
          <Column>{t('rules')}</Column>
          <Column isFigure>{t('watch')}</Column>
        </>
      }
    >
      <tbody>
        {record.rules.map((rule) => (
          <tr key={rule.citation}>
            <td>{rule.isSetter ? <b>{rule.citation}</b> : rule.citation}</td>
            <td className="is-figure">
              {rule.isSetter ? (
                <b>{t('minutes', { minutes: rule.minutes ?? 0 })}</b>
              ) : rule.minutes !== null ? (
                t('minutes', { minutes: rule.minutes })
              ) : (
                t(rule.statement ? 'statement' : 'noNumber')
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}
