import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { requireViewer } from '@/lib/auth/viewer'
import { listCylinders } from '@/lib/data/cylinders-list'
import { getPermit } from '@/lib/data/permits/get'
import { listPermitHands } from '@/lib/data/permits/people'
import { storeAreas } from '@/lib/data/storage'
import { PermitFrame } from '../frame'
import { PermitSlab } from '../permit-slab'
import { Vessel } from '../vessels'
import { SwapForm } from './swap-form'

type SwapPageProps = Readonly<{
  params: Promise<{ permitId: string }>
  searchParams: Promise<{ side?: string; place?: string }>
}>

const MOST_SERIALS = 8

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.swap'))('title') }
}

export default async function SwapPage({ params, searchParams }: SwapPageProps) {
  const viewer = await requireViewer()
  const [{ permitId }, { side: wanted, place: wantedPlace }] = await Promise.all([
    params,
    searchParams,
  ])
  const view = await found(getPermit(viewer, permitId))
  const t = await getTranslations('permit.swap')
  const { head, vessels } = view
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: head.zone }
  const side = vessels?.[wanted === 'fuel' ? 'fuel' : 'oxygen'] ?? null
  const hands = await listPermitHands(viewer, head.siteId, view.day)
  const full = side
    ? await listCylinders(viewer, head.siteId, {
        gas: side.gasId,
        status: 'full',
        part: null,
        after: null,
      })
    : null
  const areas = view.can.swap ? await storeAreas(viewer, head.siteId) : []
  const place = Number(wantedPlace ?? 1)
  const off = side?.cylinders.find((cylinder) => cylinder.place === place) ?? null
  return (
    <PermitFrame
      head={head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${head.id}`}
      sentence={vessels ? t('sentence', { outfit: vessels.number }) : null}
    >
      <div className="desk:max-w-[960px] desk:px-8">
        {vessels && side && view.can.swap ? (
          <SwapForm
            permitId={head.id}
            outfitId={vessels.outfitId}
            side={side.side}
            place={off?.place ?? place}
            off={off && { id: off.id, serial: off.serial }}
            isWeighed={side.gasId !== 'oxygen'}
            vessel={
              off ? (
                <Vessel
                  side={side}
                  isRunning={false}
                  now={view.now}
                  prefs={prefs}
                  swapHref={null}
                />
              ) : null
            }
            onSite={(full?.cylinders ?? [])
              .slice(0, MOST_SERIALS)
              .map((cylinder) => cylinder.serial)}
            areas={areas}
          />
        ) : (
          <p className="px-4 py-3">{t(view.can.swap ? 'noOutfit' : 'notYours')}</p>
        )}
      </div>
      <PermitSlab head={head} hands={hands} operatorId={view.people.operatorId} />
    </PermitFrame>
  )
}
