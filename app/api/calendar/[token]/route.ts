import { getTranslations } from 'next-intl/server'
import { feedPerson, isFeedToken } from '@/lib/auth/feed-token'
import { type FeedDay, feedOwnerOf, listFeedDays } from '@/lib/data/plan/calendar'
import { iCalendar } from '@/lib/format/ical'

type CalendarContext = Readonly<{ params: Promise<{ token: string }> }>

/**
 * Deliveries and what falls due for a calendar that follows this address. An address that is wrong, or whose person
 * lost a grant, gets an empty calendar: entries leave the phone, and nothing is told.
 */
export async function GET(_request: Request, { params }: CalendarContext): Promise<Response> {
  const token = (await params).token.replace(/\.ics$/, '')
  const t = await getTranslations('plan.feed')
  const owner = await feedOwnerOf(feedPerson(token))
  const isTheirs = owner !== null && isFeedToken(token, owner)
  const { now, days } = isTheirs
    ? await listFeedDays(owner.personId)
    : { now: new Date(0), days: [] as FeedDay[] }
  const checks = await getTranslations()
  const checkOf = ({ kind, check }: FeedDay) => {
    if (kind === 'outfit') return checks(`outfits.checks.${check as 'inspection'}`)
    if (kind === 'extinguisher') return checks(`extinguishers.checks.${check as 'monthly'}`)
    if (kind === 'qualification') return checks(`people.kinds.${check as 'pai'}`)
    return ''
  }
  const titleOf = (day: FeedDay) =>
    t(day.kind, {
      check: checkOf(day),
      site: day.siteName,
      what: day.what,
      lines: day.lines.map(({ quantity, sizeName }) => `${quantity} × ${sizeName}`).join(', '),
    })
  const body = iCalendar({
    name: t('name'),
    now,
    days: days.map((day) => ({ id: `${day.kind}-${day.id}`, day: day.day, title: titleOf(day) })),
  })
  return new Response(body, {
    headers: { 'content-type': 'text/calendar; charset=utf-8', 'cache-control': 'no-store' },
  })
}
