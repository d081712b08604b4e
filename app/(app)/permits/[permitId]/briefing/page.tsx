import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { type BriefingView, getBriefing } from '@/lib/data/permits/sign-ons'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { PermitFrame } from '../frame'
import { SignOnForm, VisitorForm } from './sign-on-forms'

type BriefingPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.briefing'))('title') }
}

export default async function BriefingPage({ params }: BriefingPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getBriefing(viewer, permitId))
  const t = await getTranslations('permit.briefing')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone }
  return (
    <PermitFrame
      head={view.head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${permitId}`}
      sentence={t('sentence')}
    >
      <div className="desk:grid desk:grid-cols-2 desk:gap-x-12 desk:px-8">
        <Said view={view} />
        <div>
          <SignedOn view={view} prefs={prefs} />
          {view.canSign ? (
            <div className="grid gap-6 px-4 py-4 desk:max-w-[480px] desk:px-0 [&_.refusal]:-mx-4">
              <SignOnForm permitId={permitId} hands={view.hands} />
              <VisitorForm permitId={permitId} />
            </div>
          ) : (
            <p className="px-4 py-3 type-note desk:px-0">{t('notNow')}</p>
          )}
        </div>
      </div>
    </PermitFrame>
  )
}

/** What is said out loud, in the order in which it matters. */
async function Said({ view }: Readonly<{ view: BriefingView }>) {
  const t = await getTranslations('permit.briefing')
  const p = await getTranslations('precautions')
  const { head } = view
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink px-4 pb-1 desk:px-0">{t('said')}</h2>
      <div className="grid gap-1 border-b border-rule px-4 py-3 desk:px-0">
        <p className="type-row-title">{head.what}</p>
        <p className="type-note text-ink-2">{head.whereWords}</p>
        <p>{t('cuts', { name: view.operator })}</p>
        <p>
          {view.fireWatch
            ? t('watches', { name: view.fireWatch, minutes: view.watchMin })
            : t('nobodyWatches')}
        </p>
        <p className="font-[650]">{view.emergencyWords || t('call911')}</p>
        <p>{t('anyoneStops')}</p>
      </div>
      <ul className="type-note">
        {view.precautions.map((id) => (
          <li key={id} className="border-b border-rule px-4 py-1.5 desk:px-0">
            {p(id)}
          </li>
        ))}
      </ul>
    </section>
  )
}

async function SignedOn({ view, prefs }: Readonly<{ view: BriefingView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.briefing')
  const current = view.signOns.filter((one) => one.isCurrent)
  const old = view.signOns.filter((one) => !one.isCurrent)
  return (
    <section>
      <h2 className="type-section border-b-2 border-ink px-4 pt-4 pb-1 desk:px-0 desk:pt-0">
        {t('signedOn', { count: current.length })}
      </h2>
      <ul className="plain-rows">
        {[...current, ...old].map((one) => (
          <PlainRow
            key={`${one.name}-${one.firm}-${one.at.getTime()}`}
            mark={<AnswerMark name={one.isCurrent ? 'done' : 'to-answer'} />}
            title={one.firm ? t('ofFirm', { name: one.name, firm: one.firm }) : one.name}
            note={t(one.isCurrent ? `how.${one.how}` : 'again')}
            aside={formatClock(one.at, prefs)}
            isQuiet={!one.isCurrent}
          />
        ))}
      </ul>
    </section>
  )
}
