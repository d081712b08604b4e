'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import type { PeopleToday } from '@/lib/data/people-today'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { receiveVisitorAction, visitorLeftAction } from './actions'

type PartProps = Readonly<{ siteId: string; page: PeopleToday; prefs: FormatPrefs }>

/** Whoever is on the site and has no sign-in: counted when the alarm sounds. */
export function VisitorsPart({ siteId, page, prefs }: PartProps) {
  const t = useTranslations('people.today')
  const router = useRouter()
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink pb-1">{t('visitors')}</h2>
      {page.visitors.length === 0 ? <p className="py-2 text-ink-2">{t('noVisitors')}</p> : null}
      <ul className="mb-5">
        {page.visitors.map((one) => (
          <li
            key={one.id}
            className="flex items-center justify-between gap-4 border-b border-rule py-2"
          >
            <span>
              <span className="block">
                {one.name}
                {one.firm ? (
                  <span className="text-ink-2"> {t('ofFirm', { firm: one.firm })}</span>
                ) : null}
              </span>
              <span className="type-small block text-ink-2">
                {t(one.leftAt ? 'visitOver' : 'visit', {
                  purpose: one.purpose,
                  host: one.hostName,
                  came: formatClock(one.toldAt, prefs),
                  left: one.leftAt ? formatClock(one.leftAt, prefs) : '',
                })}
              </span>
            </span>
            {page.mayAssign && !one.leftAt ? (
              <KeptForm
                id={`left-${one.id}`}
                action={visitorLeftAction}
                refusedTitle={t('refused')}
                onDone={() => router.refresh()}
              >
                <input type="hidden" name="visitorId" value={one.id} />
                <SubmitButton kind="plain">{t('left', { name: one.name })}</SubmitButton>
              </KeptForm>
            ) : null}
          </li>
        ))}
      </ul>
      {page.mayAssign ? <VisitorForm siteId={siteId} page={page} /> : null}
    </section>
  )
}

function VisitorForm({ siteId, page }: Omit<PartProps, 'prefs'>) {
  const t = useTranslations('people.today')
  const router = useRouter()
  return (
    <KeptForm
      id={`visitor-${siteId}`}
      action={receiveVisitorAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <TextField name="name" label={t('visitorName')} maxLength={80} />
      <TextField name="firm" label={t('visitorFirm')} maxLength={80} />
      <TextField name="purpose" label={t('purpose')} maxLength={200} />
      <SelectField
        name="hostId"
        label={t('host')}
        emptyLabel={t('choose')}
        options={page.people.map((person) => ({ value: person.id, label: person.name }))}
      />
      <TickBox name="isTold">{t('told')}</TickBox>
      <SubmitButton kind="plain">{t('came')}</SubmitButton>
    </KeptForm>
  )
}
