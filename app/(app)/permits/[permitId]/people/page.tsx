import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { requireViewer } from '@/lib/auth/viewer'
import { getNamedPeople } from '@/lib/data/permits/name-people'
import { PermitFrame } from '../frame'
import { NamePeopleForm } from './name-people-form'

type PeoplePageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.people'))('title') }
}

export default async function PeoplePage({ params }: PeoplePageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getNamedPeople(viewer, permitId))
  const t = await getTranslations('permit.people')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone }
  const isBefore = view.head.state === 'preparing' || view.head.state === 'cleared'
  return (
    <PermitFrame
      head={view.head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${permitId}`}
      sentence={t('sentence')}
    >
      <div className="grid gap-3 px-4 py-3 desk:max-w-[544px] desk:px-8 [&_.refusal]:-mx-4">
        {isBefore ? null : <p>{t('tooLate')}</p>}
        {isBefore && !view.canChange ? <p>{t('notYours')}</p> : null}
        {view.canChange ? <NamePeopleForm view={view} /> : null}
      </div>
    </PermitFrame>
  )
}
