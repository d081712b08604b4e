import Link from 'next/link'
import { useTranslations } from 'next-intl'
import type { PlanFan } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'

type WordsProps = Readonly<{ fan: PlanFan; days: readonly number[] }>

/** What the drawing rests on: what is at hand, what comes, the jobs that use it, and what may stand there. */
export function FanWords({ fan, days }: WordsProps) {
  const t = useTranslations('plan.fanWords')
  const c = useTranslations('plan.comes')
  const day = (at: number) => formatDay(days[at] ?? days[0] ?? 0, { timeZone: 'UTC' })
  return (
    <ul className="mt-2 type-small text-ink-2">
      <li>
        {t('here', {
          full: fan.gas.full,
          open: (Math.round(fan.gas.openCylinders * 10) / 10).toLocaleString('en-US'),
        })}
      </li>
      {fan.comes.map((one) => (
        <li key={`${one.day}${one.kind}${one.quantity}`}>
          {t('comes', { day: day(one.day), what: c(one.kind, { quantity: one.quantity }) })}
        </li>
      ))}
      {fan.jobs.map((job) => (
        <li key={job.id}>
          <Link className="text-cobalt underline" href={`/jobs/${job.id}`}>
            {t('job', { number: job.number })}
          </Link>{' '}
          {t('jobDays', { from: day(job.fromDay), to: day(job.toDay) })}
        </li>
      ))}
      <li>{fan.room === null ? t('noLimit') : t('room', { count: fan.room })}</li>
    </ul>
  )
}
