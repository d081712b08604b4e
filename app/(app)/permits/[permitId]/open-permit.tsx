import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import type { PermitView } from '@/lib/data/permits/get'
import type { SiteHand } from '@/lib/data/permits/people'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { DeskSide } from './desk-side'
import { PermitFacts } from './facts'
import { PermitFrame } from './frame'
import { PermitSlab } from './permit-slab'
import { Validity } from './validity'
import { Vessels } from './vessels'

type OpenProps = Readonly<{ view: PermitView; hands: readonly SiteHand[]; prefs: FormatPrefs }>

/** A permit under which people cut, or that is held: what is left of it, who is on it, the gas, what can be done. */
export async function OpenPermit({ view, hands, prefs }: OpenProps) {
  const t = await getTranslations('permit.open')
  const { head, vessels, now } = view
  const base = `/permits/${head.id}`
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('what', { number: head.number })}
      backHref={`/permits?site=${head.siteId}`}
      actions={<ButtonLink href={`${base}/posted`}>{t('posted')}</ButtonLink>}
    >
      <div className="desk:grid desk:grid-cols-[minmax(0,6fr)_minmax(0,5fr)] desk:gap-x-12 desk:px-8">
        <div>
          <Validity view={view} prefs={prefs} />
          <PermitFacts view={view} prefs={prefs} />
          {vessels ? (
            <Vessels
              contents={vessels}
              isRunning={head.state === 'open'}
              now={now}
              prefs={prefs}
              swapHref={view.can.swap ? `${base}/swap` : null}
            />
          ) : null}
          <LastLine view={view} prefs={prefs} />
          <Actions view={view} />
        </div>
        <div className="hidden desk:block">
          <DeskSide view={view} prefs={prefs} />
        </div>
      </div>
      <PermitSlab head={head} hands={hands} operatorId={view.people.operatorId} />
    </PermitFrame>
  )
}

async function LastLine({ view, prefs }: Readonly<{ view: PermitView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.open')
  const { head, lastLog, heldAt, holdReason, lookedAgainAt } = view
  if (head.state === 'held') {
    return (
      <div className="px-4 pt-3 desk:px-0">
        <p className="type-row-title">
          {t('heldWhy', {
            time: heldAt ? formatClock(heldAt, prefs) : '',
            reason: holdReason ? reasonWords(holdReason, t) : '',
          })}
        </p>
        <p className="type-note text-ink-2">
          {lookedAgainAt
            ? t('lookedAt', { time: formatClock(lookedAgainAt, prefs) })
            : t('notLooked')}
        </p>
      </div>
    )
  }
  if (!lastLog) return <p className="px-4 pt-3 type-row-title desk:px-0">{t('nothingLogged')}</p>
  const { cut, at, pieces } = lastLog
  return (
    <div className="flex items-baseline justify-between gap-3 px-4 pt-2 desk:px-0 desk:pt-3">
      <p className="type-row-title">
        {cut
          ? t('lastCutLogged', {
              ordinal: cut.ordinal,
              title: cut.title,
              done: cut.doneCount,
              count: cut.count,
            })
          : t('lastLogged', { pieces })}
      </p>
      <p className="type-note shrink-0 text-ink-2">
        {t('logged', { time: formatClock(at, prefs) })}
      </p>
    </div>
  )
}

/** What the database or the clock holds for; anything else is in somebody's own words. */
const OWN_REASONS = [
  'stop',
  'gas_test',
  'gas_test_expired',
  'incident',
  'outfit',
  'gear_check_due',
  'look_due_shift',
  'look_due_hours',
  'burn_ban',
  'wind',
  'wind_over',
] as const

function reasonWords(
  reason: string,
  t: Awaited<ReturnType<typeof getTranslations<'permit.open'>>>,
): string {
  const own = OWN_REASONS.find((one) => one === reason)
  if (own) return t(`holdReasons.${own}`)
  return reason.startsWith('gas_test_') ? t('holdReasons.gas_test') : reason
}

async function Actions({ view }: Readonly<{ view: PermitView }>) {
  const t = await getTranslations('permit.open')
  const { head, can } = view
  const base = `/permits/${head.id}`
  const isHeld = head.state === 'held'
  return (
    <div className="thumb gap-2! border-t-0! pt-2! desk:px-0!">
      {!isHeld && can.log ? (
        <ButtonLink kind="main" isWide href={`${base}/log`}>
          {t('log')}
        </ButtonLink>
      ) : null}
      {isHeld && can.resume ? (
        <ButtonLink kind="main" isWide href={`${base}/resume`}>
          {t('goOn')}
        </ButtonLink>
      ) : null}
      <div className="thumb-row">
        {!isHeld && can.hold ? (
          <ButtonLink isWide href={`${base}/hold`}>
            {t('hold')}
          </ButtonLink>
        ) : null}
        {isHeld && can.watch ? (
          <ButtonLink isWide href={`${base}/watch`}>
            {t('watch')}
          </ButtonLink>
        ) : null}
        {can.endWork ? (
          <ButtonLink isWide href={`${base}/end`}>
            {t('workDone')}
          </ButtonLink>
        ) : null}
      </div>
      <p className="flex flex-wrap justify-between gap-x-6 gap-y-2 py-1">
        {can.sign ? (
          <a className="text-link py-1" href={`${base}/hand-over`}>
            {t('handOver')}
          </a>
        ) : null}
        {can.clear ? (
          <a className="text-link py-1" href={`${base}/gas-test`}>
            {t('gasTest')}
          </a>
        ) : null}
        {view.isOutdoors && can.hold ? (
          <a className="text-link py-1" href={`${base}/weather`}>
            {t('weather')}
          </a>
        ) : null}
        <a className="text-link py-1" href={`${base}/briefing`}>
          {t('briefing')}
        </a>
        <a className="text-link py-1" href={`/incidents/new?permit=${head.id}`}>
          {t('incident')}
        </a>
        {can.paper ? (
          <a className="text-link py-1" href={`${base}/paper`}>
            {t('paper')}
          </a>
        ) : null}
        <a className="text-link py-1" href={`${base}/rules`}>
          {t('rules')}
        </a>
        <a className="text-link py-1" href={`${base}/record`}>
          {t('record')}
        </a>
      </p>
    </div>
  )
}
