import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import type { CylinderEventRow, CylinderHistory as History } from '@/lib/data/cylinders-history'
import { formatDate, formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { eventDetail } from './event-detail'

type Props = Readonly<{ history: History; gasId: string; prefs: FormatPrefs }>

/** Everything that happened to it, newest first: a table at a desk, rows on a phone. */
export function CylinderHistory({ history, gasId, prefs }: Props) {
  const t = useTranslations('cylinders')
  return (
    <section className="pt-3">
      <h2 className="type-section px-4 pb-1 desk:px-0">{t('history')}</h2>
      <ol className="border-t-2 border-ink desk:hidden">
        {history.events.map((event) => (
          <EventRow key={event.id} event={event} gasId={gasId} prefs={prefs} />
        ))}
      </ol>
      <div className="hidden desk:block">
        <EventTable history={history} gasId={gasId} prefs={prefs} />
      </div>
      {history.elsewhere > 0 ? (
        <p className="px-4 py-2 type-note text-ink-2 desk:px-0">
          {t('elsewhere', { count: history.elsewhere })}
        </p>
      ) : null}
    </section>
  )
}

type OneEvent = Readonly<{ event: CylinderEventRow; gasId: string; prefs: FormatPrefs }>

function EventRow({ event, gasId, prefs }: OneEvent) {
  const t = useTranslations('cylinders')
  return (
    <li className="border-b border-rule px-4 py-2">
      <div className="flex justify-between gap-2">
        <b className="type-row-title">{t(`kind.${event.kind}` as 'kind.read')}</b>
        <span className="type-note text-ink-2">{formatDayClock(event.at, prefs)}</span>
      </div>
      <p className="type-note text-ink-2">{eventDetail(event, gasId, prefs, t)}</p>
      <div className="flex justify-between gap-2 type-small text-ink-2">
        <span>
          {event.personName}, {roleWords(event.roleThen, t)}
        </span>
        <EntryCode event={event} />
      </div>
    </li>
  )
}

function EventTable({ history, gasId, prefs }: Props) {
  const t = useTranslations('cylinders')
  const head = (
    <>
      <Column isFigure>{t('entryNo')}</Column>
      <Column>{t('time')}</Column>
      <Column>{t('who')}</Column>
      <Column>{t('roleThen')}</Column>
      <Column>{t('what')}</Column>
      <Column>{t('detail')}</Column>
      <Column>{t('entryCode')}</Column>
    </>
  )
  return (
    <DataTable caption={t('history')} head={head}>
      <tbody>
        {history.events.map((event) => (
          <tr key={event.id}>
            <td className="is-figure">{event.entrySeq ?? '–'}</td>
            <td className="whitespace-nowrap" title={formatDate(event.at, prefs)}>
              {formatDayClock(event.at, prefs)}
            </td>
            <td>{event.personName}</td>
            <td>{roleWords(event.roleThen, t)}</td>
            <td>
              <b>{t(`kind.${event.kind}` as 'kind.read')}</b>
            </td>
            <td>{eventDetail(event, gasId, prefs, t)}</td>
            <td className="type-ident">{event.entryCode}</td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}

function EntryCode({ event }: Readonly<{ event: CylinderEventRow }>) {
  const t = useTranslations('cylinders')
  if (event.entrySeq === null) return null
  return (
    <span>
      {t('entry', { seq: event.entrySeq })} <span className="type-ident">{event.entryCode}</span>
    </span>
  )
}

function roleWords(role: string, t: ReturnType<typeof useTranslations<'cylinders'>>): string {
  const key = `role.${role}` as 'role.foreman'
  return t.has(key) ? t(key) : role
}
