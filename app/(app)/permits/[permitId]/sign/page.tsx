import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { getClearance } from '@/lib/data/permits/clearance-view'
import { getPermit } from '@/lib/data/permits/get'
import { getSignView, type SignView } from '@/lib/data/permits/sign-view'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { PermitFrame } from '../frame'
import { ReasonRows } from '../reason-rows'
import { IssueForm } from './issue-form'
import { SignForm } from './sign-form'
import { SignedContent } from './signed-content'

type SignPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.sign'))('heading') }
}

export default async function SignPage({ params }: SignPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const [view, permit, clearance] = await found(
    Promise.all([
      getSignView(viewer, permitId),
      getPermit(viewer, permitId),
      getClearance(viewer, permitId),
    ]),
  )
  const t = await getTranslations('permit.sign')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone }
  return (
    <PermitFrame
      head={view.head}
      prefs={prefs}
      title={t('title', { number: view.head.number })}
      backHref={`/permits/${permitId}`}
      sentence={t('sentence', { minutes: view.watchMin })}
    >
      <div className="desk:grid desk:grid-cols-[minmax(0,6fr)_minmax(0,5fr)] desk:gap-x-12 desk:px-8">
        <div>
          <ul className="plain-rows border-t border-rule">
            {view.steps.map((step) => (
              <PlainRow
                key={step.act}
                mark={<AnswerMark name={step.signedAt ? 'done' : 'to-answer'} />}
                title={
                  step.name === ''
                    ? t('acts.enterOpen')
                    : t(`acts.${step.act}`, { name: step.name })
                }
                aside={step.signedAt ? formatClock(step.signedAt, prefs) : t('notYet')}
                isQuiet={step.signedAt !== null}
              />
            ))}
            <PlainRow
              mark={<AnswerMark name="to-answer" />}
              title={t('acts.issue')}
              aside={t('last')}
            />
          </ul>
          <p className="px-4 pt-2 type-small text-ink-2 desk:px-0">
            {t.rich('code', {
              code: view.head.contentHash.slice(0, 6),
              mono: (words) => <span className="type-ident">{words}</span>,
            })}
          </p>
          {view.head.state === 'cleared' ? (
            <SignedContent permit={permit} clearance={clearance} prefs={prefs} />
          ) : null}
          <Step view={view} />
        </div>
        <Waits view={view} prefs={prefs} />
      </div>
    </PermitFrame>
  )
}

async function Step({ view }: Readonly<{ view: SignView }>) {
  const t = await getTranslations('permit.sign')
  const { head } = view
  if (head.state !== 'cleared')
    return (
      <p className="px-4 py-3 desk:px-0">
        {t(`state.${head.state === 'preparing' ? 'preparing' : 'other'}`)}
      </p>
    )
  if (!view.canSign) return <p className="px-4 py-3 desk:px-0">{t('notYours')}</p>
  const step = view.steps.find((one) => one.signedAt === null)
  return (
    <div className="px-4 py-3 desk:max-w-[480px] desk:px-0 [&_.refusal]:-mx-4">
      {step ? (
        <SignForm
          key={step.act}
          permitId={head.id}
          version={head.version}
          contentHash={head.contentHash}
          step={step}
          supervisors={view.supervisors}
        />
      ) : (
        <IssueForm view={view} />
      )}
    </div>
  )
}

async function Waits({ view, prefs }: Readonly<{ view: SignView; prefs: FormatPrefs }>) {
  const t = await getTranslations('permit.sign')
  if (view.waits.length === 0) return null
  const needsGear = view.waits.some((reason) => reason.code === 'gear_check_due')
  const needsTest = view.waits.some((reason) => reason.code.startsWith('gas_test'))
  return (
    <div>
      <ReasonRows title={(count) => t('waits', { count })} reasons={view.waits} prefs={prefs} />
      {needsGear && view.outfitId ? (
        <div className="px-4 pt-3 desk:px-0">
          <ButtonLink isWide href={`/outfits/${view.outfitId}`}>
            {t('lookAtGear')}
          </ButtonLink>
        </div>
      ) : null}
      {needsTest ? (
        <div className="px-4 py-3 desk:px-0">
          <ButtonLink isWide href={`/permits/${view.head.id}/gas-test`}>
            {t('takeTest')}
          </ButtonLink>
        </div>
      ) : null}
    </div>
  )
}
