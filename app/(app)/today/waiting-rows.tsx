import { useTranslations } from 'next-intl'
import { AnswerMark, type AnswerMarkName } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import type { TodayNotice, Waiting } from '@/lib/data/today/today'
import { formatClock, formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { SeenForm } from './seen-form'

const LEADS_TO: Readonly<Record<Waiting['kind'], string>> = {
  clear: 'clearance',
  gas_test: 'gas-test',
  sign_operator: 'sign',
  sign_watch: 'sign',
  sign_enter: 'sign',
  issue: 'sign',
  round: 'watch/round',
  close: 'close',
  look: 'resume',
}
const MARKS: Partial<Record<Waiting['kind'], AnswerMarkName>> = { round: 'due' }

type RowsProps = Readonly<{
  waiting: readonly Waiting[]
  notices: readonly TodayNotice[]
  now: Date
  prefs: FormatPrefs
}>

/** What waits on the viewer: what they were told and have not seen, then what they can do next. */
export function WaitingRows({ waiting, notices, now, prefs }: RowsProps) {
  const t = useTranslations('today')
  if (waiting.length === 0 && notices.length === 0) return null
  return (
    <ul className="plain-rows">
      {notices.map((notice) => (
        <NoticeRow key={notice.id} notice={notice} now={now} prefs={prefs} />
      ))}
      {waiting.map((one) => (
        <PlainRow
          key={`${one.kind}-${one.permitId}`}
          href={`/permits/${one.permitId}/${LEADS_TO[one.kind]}`}
          mark={<AnswerMark name={MARKS[one.kind] ?? 'to-answer'} />}
          title={t(`waits.${one.kind}`, { area: one.areaName, number: one.number })}
          note={t(`waitsNote.${one.kind}`, {
            answered: one.answered,
            total: one.total,
            number: one.number,
            time: one.at ? formatWhen(one.at, now, prefs) : '',
          })}
        />
      ))}
    </ul>
  )
}

const KNOWN = [
  'work_outside_permit',
  'stop_pressed',
  'round_missed',
  'permit_expired',
  'smoke',
  'qualification_ends',
  'incident',
] as const
type KnownKind = (typeof KNOWN)[number]
const isKnown = (kind: string): kind is KnownKind => (KNOWN as readonly string[]).includes(kind)

function NoticeRow({
  notice,
  now,
  prefs,
}: Readonly<{ notice: TodayNotice; now: Date; prefs: FormatPrefs }>) {
  const t = useTranslations('today')
  const words = isKnown(notice.kind)
    ? t(`told.${notice.kind}`, {
        area: notice.areaName,
        kind: notice.areaName,
        number: notice.number,
        words: notice.words,
      })
    : notice.areaName
  return (
    <li className="flex items-center gap-3 border-b border-rule px-4 py-2 desk:px-0">
      <span className="text-heat">
        <AnswerMark name={notice.kind === 'round_missed' ? 'late' : 'refused'} />
      </span>
      <span className="min-w-0 flex-1">
        <span className="block text-[16px] leading-5 font-[600]">
          {notice.permitId ? (
            <a
              className="text-ink underline decoration-cobalt underline-offset-4"
              href={`/permits/${notice.permitId}`}
            >
              {words}
            </a>
          ) : (
            words
          )}
        </span>
        <span className="block type-small text-ink-2">
          {now.getTime() - notice.at.getTime() < 43_200_000
            ? formatClock(notice.at, prefs)
            : formatWhen(notice.at, now, prefs)}
        </span>
      </span>
      <SeenForm noticeId={notice.id} />
    </li>
  )
}
