import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getCylinder } from '@/lib/data/cylinders'
import { listCylinderEvents } from '@/lib/data/cylinders-history'
import { CylinderActs } from './cylinder-acts'
import { CylinderFacts } from './cylinder-facts'
import { CylinderHistory } from './cylinder-history'
import { ReadForm } from './read-form'
import { TestFacts } from './test-facts'

type CylinderPageProps = Readonly<{
  params: Promise<{ cylinderId: string }>
  searchParams: Promise<{ before?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('cylinders')
  return { title: t('cylinder') }
}

export default async function CylinderPage({ params, searchParams }: CylinderPageProps) {
  const viewer = await requireViewer()
  const [{ cylinderId }, { before }] = [await params, await searchParams]
  const beforeSeq = before && /^\d{1,9}$/.test(before) ? Number(before) : null
  const cylinder = await found(getCylinder(viewer, cylinderId))
  const history = await found(listCylinderEvents(viewer, cylinderId, beforeSeq))
  const t = await getTranslations('cylinders')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: cylinder.zone }
  const back = cylinder.siteId ? `/cylinders?site=${cylinder.siteId}` : '/cylinders'
  const title = <span className="type-ident">{cylinder.serial}</span>
  const where = `${t(`gas.${cylinder.gasId}` as 'gas.oxygen')} ${cylinder.size.name}, ${cylinder.siteName ?? t('gone')}`
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead
        title={title}
        where={where}
        backHref={back}
        aside={<b>{t(`status.${cylinder.status}`)}</b>}
      />
      <DeskPageHead
        title={title}
        sentence={
          <>
            {where}. <b>{t(`status.${cylinder.status}`)}</b>
          </>
        }
      />
      <div className="desk:grid desk:grid-cols-[minmax(0,2fr)_minmax(0,3fr)] desk:gap-x-12 desk:px-8">
        <div>
          <CylinderFacts cylinder={cylinder} prefs={prefs} />
          <TestFacts cylinder={cylinder} />
          {cylinder.mayRead ? (
            <ReadForm
              cylinderId={cylinder.id}
              size={cylinder.size}
              tareKg={cylinder.tareKg ?? cylinder.size.tareKg}
            />
          ) : null}
          <CylinderActs cylinder={cylinder} />
        </div>
        <div>
          <CylinderHistory history={history} gasId={cylinder.gasId} prefs={prefs} />
          {history.next ? (
            <p className="px-4 py-3 desk:px-0">
              <ButtonLink href={`/cylinders/${cylinder.id}?before=${history.next}`}>
                {t('olderEvents')}
              </ButtonLink>
            </p>
          ) : null}
        </div>
      </div>
    </PrefsProvider>
  )
}
