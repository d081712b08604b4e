import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import type { PermitView } from '@/lib/data/permits/get'
import { formatClock, formatDayClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { DeskSide } from './desk-side'
import { PermitFacts } from './facts'
import { PermitFrame } from './frame'
import { ReasonRows } from './reason-rows'

/** Before a permit is open, and after it is over: what it is for, what it waits for, the next step. */
export async function WaitingPermit({
  view,
  prefs,
}: Readonly<{ view: PermitView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.waiting')
  const { head } = view
  const state =
    head.state === 'preparing' || head.state === 'cleared' || head.state === 'withdrawn'
      ? head.state
      : 'closed'
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title', { number: head.number })}
      backHref={`/permits?site=${head.siteId}`}
    >
      <div className="desk:grid desk:grid-cols-[minmax(0,6fr)_minmax(0,5fr)] desk:gap-x-12 desk:px-8">
        <div>
          <section className="border-b border-rule px-4 py-3 desk:px-0">
            <p className="type-row-title">{head.what}</p>
            <p className="type-note text-ink-2">{head.whereWords}</p>
            <p className="mt-2">
              {t('planned', {
                from: formatDayClock(view.plannedFrom, prefs),
                until: formatClock(view.plannedUntil, prefs),
              })}
            </p>
          </section>
          <PermitFacts view={view} prefs={prefs} />
          <ReasonRows title={(count) => t('waits', { count })} reasons={view.waits} prefs={prefs} />
          <p className="px-4 pt-3 desk:px-0">{t(`next.${state}`)}</p>
          <NextStep view={view} />
        </div>
        <div className="hidden desk:block">
          <DeskSide view={view} prefs={prefs} />
        </div>
      </div>
    </PermitFrame>
  )
}

async function NextStep({ view }: Readonly<{ view: PermitView }>) {
  const t = await getTranslations('permit.waiting')
  const { head, can, survey } = view
  const base = `/permits/${head.id}`
  const isOver = head.state === 'closed' || head.state === 'withdrawn'
  return (
    <div className="thumb border-t-0! desk:px-0!">
      {head.state === 'preparing' && can.clear ? (
        <ButtonLink kind="main" isWide href={`${base}/clearance`}>
          {t(survey.answered > 0 ? 'clearOn' : 'clear')}
        </ButtonLink>
      ) : null}
      {head.state === 'cleared' && can.sign ? (
        <ButtonLink kind="main" isWide href={`${base}/sign`}>
          {t('sign')}
        </ButtonLink>
      ) : null}
      {isOver ? (
        <ButtonLink kind="main" isWide href={`${base}/record`}>
          {t('record')}
        </ButtonLink>
      ) : null}
      <p className="flex flex-wrap justify-center gap-x-6 gap-y-2 py-1">
        <a className="text-link" href={`${base}/rules`}>
          {t('rules')}
        </a>
        {head.state === 'cleared' ? (
          <a className="text-link" href={`${base}/briefing`}>
            {t('briefing')}
          </a>
        ) : null}
        {!isOver && can.clear ? (
          <a className="text-link" href={`${base}/people`}>
            {t('people')}
          </a>
        ) : null}
        {!isOver && can.withdraw ? (
          <a className="text-link" href={`${base}/withdraw`}>
            {t('withdraw')}
          </a>
        ) : null}
      </p>
    </div>
  )
}
