'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { PlanPage } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { endCommitmentAction } from './actions'
import { dayOf } from './day-of'

type Confirmed = PlanPage['commitments'][number]
type ListProps = Readonly<{ commitments: readonly Confirmed[] }>

/** Moves and returns that were confirmed: the truck goes by them, and each is done or taken back. */
export function ConfirmedList({ commitments }: ListProps) {
  const t = useTranslations('plan.confirmed')
  const p = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  if (commitments.length === 0) return <p className="py-2 text-ink-2">{t('none')}</p>
  return (
    <ul aria-label={t('title')}>
      {commitments.map((one) => {
        const where = { from: one.siteName, site: one.toSiteName ?? one.siteName }
        const key = one.kind === 'move' && one.withPapers ? 'movePapers' : one.kind
        const what = t(key, where)
        return (
          <li
            key={one.id}
            className="flex flex-wrap items-center gap-x-6 gap-y-1 border-b border-rule py-2"
          >
            <p>
              <b className="font-[650]">{what}</b>
              <span className="block text-ink-2">
                {formatDay(dayOf(one.dueOn, 0), { timeZone: 'UTC' })}
                {': '}
                {one.lines
                  .map((line) =>
                    p('line', {
                      quantity: line.quantity,
                      gas: g(line.gasId as 'oxygen'),
                      size: line.sizeName,
                    }),
                  )
                  .join(', ')}
              </span>
            </p>
            {one.mayEnd
              ? (['done', 'cancelled'] as const).map((as) => (
                  <End
                    key={as}
                    one={one}
                    as={as}
                    words={t(as === 'done' ? 'done' : 'takeBack', { what })}
                  />
                ))
              : null}
          </li>
        )
      })}
    </ul>
  )
}

type EndProps = Readonly<{ one: Confirmed; as: 'done' | 'cancelled'; words: string }>

function End({ one, as, words }: EndProps) {
  const t = useTranslations('plan.confirmed')
  const router = useRouter()
  return (
    <KeptForm
      id={`end-${as}-${one.id}`}
      action={endCommitmentAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
    >
      <input type="hidden" name="commitmentId" value={one.id} />
      <input type="hidden" name="as" value={as} />
      <SubmitButton kind="plain" isWide={false}>
        {words}
      </SubmitButton>
    </KeptForm>
  )
}
