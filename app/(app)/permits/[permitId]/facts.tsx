import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { FactList } from '@/app/_components/row'
import type { PermitView } from '@/lib/data/permits/get'
import { formatClock, formatWhen } from '@/lib/format/clock'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'

/** When a test is about to end it says until when it holds. */
const SOON_MS = 20 * 60_000

/** Who cuts, who issued, how far it is cleared, and the last gas test in the order it is taken. */
export function PermitFacts({ view, prefs }: Readonly<{ view: PermitView; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.facts')
  const { people, issuedAt, clearedAt, survey, head } = view
  const cleared = t('answered', { answered: survey.answered, total: survey.total })
  const facts = [
    { name: t('cutting'), value: <b className="font-[650]">{people.operator}</b> },
    // While it is open the line under the bar names who stays.
    ...(head.state === 'open' ? [] : [{ name: t('watch'), value: people.watcher || t('nobody') }]),
    ...(view.loneClient
      ? [{ name: t('alone'), value: t('aloneWith', { client: view.loneClient }) }]
      : []),
    ...(view.isolation
      ? [
          {
            name: t('isolation'),
            value: t('isolationWords', {
              steps: view.isolation.steps.map((step) => t(`steps.${step}`)).join(', '),
              name: view.isolation.provenBy,
            }),
          },
        ]
      : []),
    ...(people.issuedBy && issuedAt
      ? [
          {
            name: t('issuedBy'),
            value: t('nameAt', { name: people.issuedBy, time: formatClock(issuedAt, prefs) }),
          },
        ]
      : []),
    {
      name: t('cleared'),
      value: (
        <>
          <Link
            href={`/permits/${head.id}/clearance`}
            className="border-b-2 border-dotted border-cobalt text-ink-2"
          >
            {cleared}
          </Link>
          {clearedAt ? `, ${formatClock(clearedAt, prefs)}` : ''}
        </>
      ),
    },
    ...(view.lookUntil
      ? [
          {
            name: t('lookAgain'),
            value: t('by', { time: formatWhen(view.lookUntil, view.now, prefs) }),
          },
        ]
      : []),
    {
      name: view.gasTest ? t('gasAt', { time: formatClock(view.gasTest.at, prefs) }) : t('gas'),
      value: <GasWords view={view} prefs={prefs} />,
    },
  ]
  return (
    <div className="border-b border-rule desk:[&_.facts]:px-0">
      <FactList facts={facts} />
    </div>
  )
}

function GasWords({ view, prefs }: Readonly<{ view: PermitView; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.facts')
  const { gas, gasTest } = view
  if (!gasTest) return t(gas.status === 'not_needed' ? 'gasNotNeeded' : 'gasNotTaken')
  const { oxygenPct, lelPct, coPpm, h2sPpm } = gasTest
  const toxic = [
    ...(coPpm === null ? [] : [t('co', { value: formatNumber(coPpm) })]),
    ...(h2sPpm === null ? [] : [t('h2s', { value: formatNumber(h2sPpm) })]),
  ]
  const words = [
    t('oxygen', { value: formatNumber(oxygenPct, 1) }),
    t('lel', { value: formatNumber(lelPct) }),
    ...toxic,
  ].join(', ')
  const isStale = gas.status === 'expired' || gas.status === 'out_of_limits'
  return (
    <span className="text-[15px] [font-stretch:97%]">
      {words}
      {gas.expiresAt && gas.expiresAt.getTime() - view.now.getTime() < SOON_MS ? (
        <span className="text-ink-2">{` ${t('lastsTo', { time: formatClock(gas.expiresAt, prefs) })}`}</span>
      ) : null}
      {gas.isContinuous ? <span className="text-ink-2">{`. ${t('continuous')}`}</span> : null}
      {isStale ? <b className="font-semibold text-heat">{` ${t(gas.status)}`}</b> : null}
    </span>
  )
}
