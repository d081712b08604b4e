import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import type { ListedFinding } from '@/lib/data/findings/list'
import { formatWhen } from '@/lib/format/clock'
import { formatAboutMoney } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { causeParams, dangerKey, isDangerous, shareWords, sizeWords } from './finding-view'

type ListProps = Readonly<{
  findings: readonly ListedFinding[]
  currency: string
  prefs: Omit<FormatPrefs, 'timeZone'>
  now: Date
}>

/** On a phone: what it would be, how much, how soon. */
export function FindingRows({ findings, currency, prefs, now }: ListProps) {
  const t = useTranslations('findings')
  return (
    <ul className="plain-rows border-t border-rule desk:hidden">
      {findings.map((finding) => {
        const [cause] = finding.causes
        if (!cause) return null
        const size = sizeWords(cause, finding.gas, prefs.units)
        return (
          <PlainRow
            key={finding.id}
            href={`/audit/findings/${finding.id}`}
            mark={isDangerous(finding) ? <AnswerMark name="short" /> : undefined}
            title={t('title', causeParams(cause, finding.serials))}
            note={t('rowNote', {
              site: finding.siteName,
              size: size.value,
              unit: size.unit,
              since: since(finding, now, prefs),
              danger: dangerKey(finding.danger),
              standing: finding.standing?.decision ?? 'none',
              who: finding.standing?.personName ?? '',
            })}
            aside={money(finding, currency)}
          />
        )
      })}
    </ul>
  )
}

const since = (finding: ListedFinding, now: Date, prefs: ListProps['prefs']) =>
  formatWhen(finding.causes[0]?.fromMs ?? finding.foundAt, now, {
    ...prefs,
    timeZone: finding.zone,
  })

const money = ({ costMinor }: ListedFinding, currency: string) =>
  costMinor === null ? null : formatAboutMoney(costMinor / 100, currency)

export function FindingTable({ findings, currency, prefs, now }: ListProps) {
  const t = useTranslations('findings')
  const unit = prefs.units === 'us' ? 'ft³' : 'm³'
  return (
    <div className="desk-body hidden desk:block">
      <DataTable
        caption={t('caption')}
        head={
          <>
            <Column>{t('ifThis')}</Column>
            <Column>{t('where')}</Column>
            <Column>{t('since')}</Column>
            <Column isFigure colSpan={2}>
              {t('size', { unit })}
            </Column>
            <Column isFigure>{t('cost')}</Column>
            <Column isFigure>{t('probability')}</Column>
            <Column>{t('who')}</Column>
          </>
        }
      >
        <tbody>
          {findings.map((finding) => (
            <FindingRow key={finding.id} {...{ finding, currency, prefs, now }} />
          ))}
        </tbody>
      </DataTable>
    </div>
  )
}

function FindingRow({
  finding,
  currency,
  prefs,
  now,
}: Readonly<{ finding: ListedFinding } & Omit<ListProps, 'findings'>>) {
  const t = useTranslations('findings')
  const [cause] = finding.causes
  if (!cause) return null
  const size = sizeWords(cause, finding.gas, prefs.units)
  const equal = finding.causes.filter((one) => one.isEqualFirst).length
  return (
    <tr>
      <td>
        <Link
          href={`/audit/findings/${finding.id}`}
          className="font-[650] text-ink underline decoration-cobalt underline-offset-4"
        >
          {t('title', causeParams(cause, finding.serials))}
        </Link>{' '}
        {isDangerous(finding) ? (
          <span className="trouble ml-2">
            <AnswerMark name="short" /> {t(`danger.${dangerKey(finding.danger)}`)}
          </span>
        ) : null}
      </td>
      <td>
        {finding.siteName}
        {finding.jobs.length > 0 ? (
          <span className="block text-ink-2">
            {t('jobs', { numbers: finding.jobs.map((job) => job.number).join(', ') })}
          </span>
        ) : null}
      </td>
      <td className="whitespace-nowrap">{since(finding, now, prefs)}</td>
      <FigureCells value={size.value} interval={size.interval} />
      <td className="is-figure">{money(finding, currency) ?? t('noPrice')}</td>
      <td className="is-figure">
        {shareWords(cause.probability)}
        {equal > 1 ? <span className="block text-ink-2">{t('equalFirst')}</span> : null}
      </td>
      <td>
        {t('standing', {
          decision: finding.standing?.decision ?? 'none',
          who: finding.standing?.personName ?? '',
        })}
      </td>
    </tr>
  )
}
