import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { requireViewer } from '@/lib/auth/viewer'
import { getDrawing } from '@/lib/data/permits/drawing'
import { formatDayClock } from '@/lib/format/clock'
import { PermitFrame } from '../frame'
import { DrawingEditor } from './editor'
import './drawing.css'

type DrawingPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.drawing'))('title') }
}

export default async function DrawingPage({ params }: DrawingPageProps) {
  const viewer = await requireViewer()
  const { permitId } = await params
  const view = await found(getDrawing(viewer, permitId))
  const t = await getTranslations('permit.drawing')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: view.head.zone }
  const kept =
    view.keptAt && view.keptBy
      ? t('kept', { who: view.keptBy, when: formatDayClock(view.keptAt, prefs) })
      : t('notKept')
  return (
    <PermitFrame
      head={view.head}
      prefs={prefs}
      title={t('title')}
      backHref={`/permits/${permitId}/clearance`}
      sentence={kept}
    >
      <p className="px-4 type-note text-ink-2 desk:hidden">{kept}</p>
      <DrawingEditor
        key={view.revision}
        permitId={permitId}
        drawn={view.drawing}
        fromBefore={view.fromBefore}
        revision={view.revision}
        layers={view.layers}
        canDraw={view.canDraw}
      />
    </PermitFrame>
  )
}
