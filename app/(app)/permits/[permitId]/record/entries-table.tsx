import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import type { Say } from '@/app/_components/form/reason-words'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { StatusMark } from '@/app/_components/marks/status-mark'
import type { RecordEntry } from '@/lib/data/records/entries'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { detailOf, deviceClock, markOf } from './entry-words'

type TableProps = Readonly<{ entries: readonly RecordEntry[]; prefs: FormatPrefs }>

/** The entries as the chain holds them: number, times, who, in which part, what, and its code. */
export function EntriesTable({ entries, prefs }: TableProps) {
  const t = useTranslations('record')
  return (
    <DataTable
      caption={t('caption')}
      className="record-table"
      head={
        <>
          <Column isFigure>{t('no')}</Column>
          <Column>{t('time')}</Column>
          <Column>{t('device')}</Column>
          <Column>{t('who')}</Column>
          <Column>{t('role')}</Column>
          <Column>{t('what')}</Column>
          <Column>{t('detail')}</Column>
          <Column>{t('code')}</Column>
        </>
      }
    >
      {byDay(entries, prefs).map(([day, rows]) => (
        <tbody key={day}>
          <tr className="no-line">
            <th scope="rowgroup" colSpan={8} className="pt-3! text-ink-2">
              {day}
            </th>
          </tr>
          {rows.map((entry) => (
            <EntryRow
              key={`${entry.seq}-${entry.at.getTime()}-${entry.what}`}
              entry={entry}
              prefs={prefs}
            />
          ))}
        </tbody>
      ))}
    </DataTable>
  )
}

function byDay(entries: readonly RecordEntry[], prefs: FormatPrefs): [string, RecordEntry[]][] {
  const days = new Map<string, RecordEntry[]>()
  for (const entry of entries) {
    const day = formatDay(entry.at, prefs)
    days.set(day, [...(days.get(day) ?? []), entry])
  }
  return [...days]
}

function useEntryWords(entry: RecordEntry, prefs: FormatPrefs) {
  const t = useTranslations('record')
  const all = useTranslations() as unknown as Say
  const say = (key: string, values?: Record<string, string>) =>
    (t as unknown as Say)(key as never, values as never)
  return {
    what: say(`whats.${entry.what}`),
    detail: detailOf(entry, { t: t as never, all, prefs }),
    device: entry.seq === null ? null : deviceClock(entry, { t: t as never, prefs }),
    who: entry.who ?? (entry.role === 'posted_code' ? t('nobody') : t('system')),
    role: (t as unknown as Say).has(`roles.${entry.role}` as never)
      ? say(`roles.${entry.role}`)
      : entry.role,
  }
}

function Mark({ entry }: Readonly<{ entry: RecordEntry }>) {
  const mark = markOf(entry)
  if (mark === null) return null
  return 'status' in mark ? <StatusMark status={mark.status} /> : <AnswerMark name={mark.answer} />
}

function EntryRow({ entry, prefs }: Readonly<{ entry: RecordEntry; prefs: FormatPrefs }>) {
  const { what, detail, device, who, role } = useEntryWords(entry, prefs)
  return (
    <tr>
      <td className="is-figure">{entry.seq === null ? '–' : formatNumber(entry.seq)}</td>
      <td className="is-clock">
        <b>{formatClock(entry.at, prefs)}</b>
      </td>
      <td className={device?.isOff ? 'is-trouble font-[600]' : 'text-ink-2'}>
        {device?.words ?? '–'}
      </td>
      <td className="whitespace-nowrap">{who}</td>
      <td className="text-ink-2 whitespace-nowrap">{role}</td>
      <td>
        <span className={`inline-flex items-center gap-2 ${entry.isTrouble ? 'text-heat' : ''}`}>
          <Mark entry={entry} />
          <b>{what}</b>
        </span>
      </td>
      <td className={entry.isTrouble ? 'is-trouble font-[600]' : undefined}>{detail}</td>
      <td className="type-ident">{entry.code ?? '–'}</td>
    </tr>
  )
}

/** On a phone the same entries as rows. */
export function EntryRows({ entries, prefs }: TableProps) {
  return (
    <ol>
      {entries.map((entry) => (
        <PhoneEntry
          key={`${entry.seq}-${entry.at.getTime()}-${entry.what}`}
          entry={entry}
          prefs={prefs}
        />
      ))}
    </ol>
  )
}

function PhoneEntry({ entry, prefs }: Readonly<{ entry: RecordEntry; prefs: FormatPrefs }>) {
  const t = useTranslations('record')
  const { what, detail, device, who, role } = useEntryWords(entry, prefs)
  return (
    <li className="border-b border-rule px-4 py-2">
      <p className={`flex items-center gap-2 type-row-title ${entry.isTrouble ? 'text-heat' : ''}`}>
        <Mark entry={entry} />
        <span className="flex-1">{what}</span>
        <span className="text-ink">{formatClock(entry.at, prefs)}</span>
      </p>
      {detail ? <p className="ml-6 text-[15px] leading-5">{detail}</p> : null}
      <p className="ml-6 flex justify-between gap-3 type-small text-ink-2">
        <span>
          {who}, {role}
          {device?.isOff ? `. ${t('device')} ${device.words}` : ''}
        </span>
        {entry.code ? (
          <span className="type-ident">
            {entry.seq} {entry.code}
          </span>
        ) : null}
      </p>
    </li>
  )
}
