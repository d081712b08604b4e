import { getTranslations } from 'next-intl/server'
import { DangerSlab } from '@/app/_components/danger/danger-slab'
import type { PermitHead } from '@/lib/data/permits/head'
import type { SiteHand } from '@/lib/data/permits/people'
import { GoBackForm } from './go-back-form'

/** On every screen of a permit that is open or held, never scrolled away. */
export async function PermitSlab({
  head,
  hands,
  operatorId,
}: Readonly<{ head: PermitHead; hands: readonly SiteHand[]; operatorId: string }>) {
  const t = await getTranslations('permit.roles')
  if (head.state !== 'open' && head.state !== 'held') return null
  const mayGoBack = hands
    .filter((hand) => hand.id === operatorId || hand.roles.includes('foreman'))
    .map((hand) => ({
      value: hand.id,
      label: t('named', {
        name: hand.name,
        role: t(hand.id === operatorId ? 'operator' : 'foreman'),
      }),
    }))
  return (
    <DangerSlab
      kind="stop"
      permitId={head.id}
      goBack={<GoBackForm permitId={head.id} people={mayGoBack} />}
    />
  )
}
