import type { CylinderDetail } from '@/lib/data/cylinders'
import { PlainActForm } from './plain-act-form'
import { ReasonForm } from './reason-form'

const STANDING: readonly string[] = ['full', 'partial', 'empty', 'quarantined']

/** What may be done with it as it stands: nothing is offered that its status refuses. */
export function CylinderActs({ cylinder }: Readonly<{ cylinder: CylinderDetail }>) {
  const { id, status, mayRead, mayQuarantine, mayMove } = cylinder
  const mayMarkEmpty = mayRead && (status === 'full' || status === 'partial')
  const mayHold = mayQuarantine && (status === 'full' || status === 'partial' || status === 'empty')
  const mayReturn = mayMove && STANDING.includes(status)
  if (!mayMarkEmpty && !mayHold && !mayReturn) return null
  return (
    <div className="flex flex-col gap-3 border-b border-rule px-4 py-3 desk:max-w-[480px] desk:px-0">
      {mayMarkEmpty ? <PlainActForm cylinderId={id} act="empty" /> : null}
      {mayHold ? <ReasonForm cylinderId={id} act="quarantine" /> : null}
      {mayQuarantine && status === 'quarantined' ? (
        <ReasonForm cylinderId={id} act="release" />
      ) : null}
      {mayReturn ? <PlainActForm cylinderId={id} act="return" /> : null}
    </div>
  )
}
