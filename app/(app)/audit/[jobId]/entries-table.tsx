import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { ButtonLink } from '@/app/_components/controls/button'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { PlainRow } from '@/app/_components/row'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { GasCode } from '@/lib/calc/gas-data'
import { Z_90 } from '@/lib/calc/stats'
import { type AuditEntry, ENTRIES_A_PAGE, type EntriesPage } from '@/lib/data/gas-audit-entries'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { volumeOf, volumeUnit } from '../audit-view'
import { observed, type Remark, remarksOf } from './entry-words'

type EntriesTableProps = Readonly<{
  audit: JobAudit
  entries: EntriesPage
  prefs: FormatPrefs
  /** Where the entries after this page stand. */
  nextHref: string | null
}>

/** Every swap and reading that made the number, with what each put in; it adds up. */
export function EntriesTable({ audit, entries, prefs, nextHref }: EntriesTableProps) {
  const t = useTranslations('audit.entries')
  const { gas, usage } = audit
  const unit = volumeUnit(prefs.units)
  const figures = figuresOf(gas, prefs)
  const total = {
    took: figures.number(usage.mean),
    interval: figures.interval(usage.low90, usage.high90),
    doubt: figures.doubt(usage.standardUncertainty),
  }
  return (
    <section id={`entries-${gas}`} className="min-w-0 scroll-mt-4">
      <h2 className="type-section mb-1 max-desk:border-b-2 max-desk:border-ink">
        {t('title', { gas })}
      </h2>
      <div className="hidden desk:block">
        <DataTable
          caption={t('caption', { gas })}
          head={
            <>
              <Column>{t('at')}</Column>
              <Column>{t('cylinder')}</Column>
              <Column>{t('what')}</Column>
              <Column isFigure colSpan={2}>
                {t('held', { unit })}
              </Column>
              <Column isFigure>{t('took', { unit })}</Column>
              <Column isFigure>{t('doubt', { unit })}</Column>
              <th scope="col" className="pl-6">
                {t('remarks')}
              </th>
            </>
          }
        >
          <tbody>
            {entries.rows.map((entry) => (
              <EntryRow key={entry.eventId} {...{ entry, gas, prefs }} />
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row" colSpan={5} className="font-[650]">
                {t('total', { count: entries.count })}
              </th>
              <td className="is-figure">
                <b>{total.took}</b>
              </td>
              <td className="is-figure">{total.doubt}</td>
              <td className="pl-6 text-ink-2">{total.interval}</td>
            </tr>
          </tfoot>
        </DataTable>
      </div>
      <ul className="plain-rows max-desk:-mx-4 desk:hidden">
        {entries.rows.map((entry) => (
          <PhoneEntry key={entry.eventId} {...{ entry, gas, prefs }} />
        ))}
        <PlainRow
          title={t('total', { count: entries.count })}
          note={t('phoneDoubt', { doubt: total.doubt, unit })}
          aside={`${total.took} (${total.interval})`}
        />
      </ul>
      {nextHref ? (
        <p className="py-2">
          <ButtonLink href={nextHref}>{t('more', { count: ENTRIES_A_PAGE })}</ButtonLink>
        </p>
      ) : null}
      <p className="mt-1 type-small text-ink-2">{t('method')}</p>
    </section>
  )
}

/** Amounts in the person's unit. */
function figuresOf(gas: GasCode, prefs: FormatPrefs) {
  const decimals = prefs.units === 'us' ? 0 : 1
  const at = (kg: number) => volumeOf(gas, kg, prefs.units)
  return {
    number: (kg: number) => formatNumber(at(kg), decimals),
    interval: (low: number, high: number) => formatInterval(at(low), at(high), decimals),
    doubt: (kg: number) => formatNumber(at(kg), decimals + 1),
  }
}

type EntryProps = Readonly<{ entry: AuditEntry; gas: GasCode; prefs: FormatPrefs }>

function useEntry({ entry, gas, prefs }: EntryProps) {
  const t = useTranslations('audit.entries')
  const { reading, heldKg, tookKg, doubtKg } = entry
  const figures = figuresOf(gas, prefs)
  const half = Z_90 * reading.standardUncertaintyKg
  return {
    remarks: remarksOf(t, { entry, gas, prefs }),
    when: t('dayTime', {
      day: formatDay(reading.atMs, prefs),
      time: formatClock(reading.atMs, prefs),
    }),
    what: t('kind', { kind: reading.kind, who: reading.personName }),
    seen: observed(reading, prefs),
    held: figures.number(heldKg),
    interval: figures.interval(Math.max(0, heldKg - half), heldKg + half),
    took: tookKg === null ? t('begins') : figures.number(tookKg),
    doubt: doubtKg > 0 ? figures.doubt(doubtKg) : t('noDoubt'),
    isBeginning: tookKg === null,
  }
}

function RemarkWords({ remark }: Readonly<{ remark: Remark }>) {
  return remark.href ? (
    <Link href={remark.href} className="text-ink underline decoration-cobalt underline-offset-4">
      {remark.text}
    </Link>
  ) : (
    remark.text
  )
}

function EntryRow(props: EntryProps) {
  const said = useEntry(props)
  const { reading } = props.entry
  return (
    <tr>
      <td className="whitespace-nowrap">{said.when}</td>
      <td className="type-ident whitespace-nowrap">{reading.serial}</td>
      <td>
        {said.what} <span className="text-ink-2">{said.seen}</span>
      </td>
      <FigureCells value={said.held} interval={said.interval} />
      <td className={`is-figure ${said.isBeginning ? 'text-ink-2' : ''}`}>
        {said.isBeginning ? said.took : <b>{said.took}</b>}
      </td>
      <td className="is-figure text-ink-2">{said.doubt}</td>
      <td className="pl-6">
        {said.remarks.map((remark) => (
          <span key={remark.text} className="block">
            <RemarkWords remark={remark} />
          </span>
        ))}
      </td>
    </tr>
  )
}

function PhoneEntry(props: EntryProps) {
  const t = useTranslations('audit.entries')
  const said = useEntry(props)
  const unit = volumeUnit(props.prefs.units)
  return (
    <PlainRow
      title={t('phoneTitle', { serial: props.entry.reading.serial, when: said.when })}
      note={
        <>
          {t('phoneNote', { what: said.what, held: said.held, interval: said.interval, unit })}
          {said.remarks.map((remark) => (
            <span key={remark.text} className="block">
              <RemarkWords remark={remark} />
            </span>
          ))}
        </>
      }
      aside={said.isBeginning ? said.took : t('phoneTook', { took: said.took })}
    />
  )
}
