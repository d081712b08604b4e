import { getTranslations } from 'next-intl/server'
import type { ReactNode } from 'react'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { Status } from '@/app/_components/marks/status-mark'
import { PhoneHead } from '@/app/_components/phone-head'
import type { PermitHead } from '@/lib/data/permits/head'
import type { FormatPrefs } from '@/lib/format/prefs'
import { statusOf } from '../permit-status'

type FrameProps = Readonly<{
  head: PermitHead
  prefs: FormatPrefs
  title: string
  backHref: string
  /** Instead of the permit's status at the right of a phone's head. */
  aside?: ReactNode
  sentence?: ReactNode
  actions?: ReactNode
  children: ReactNode
}>

/** The head that every screen of one permit has, on the phone and on the desk. */
export async function PermitFrame({
  head,
  prefs,
  title,
  backHref,
  aside,
  sentence,
  actions,
  children,
}: FrameProps) {
  const t = await getTranslations('permit')
  const where = t('where', { area: head.areaName, site: head.siteName })
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead
        title={title}
        where={where}
        backHref={backHref}
        aside={aside ?? <Status status={statusOf(head)} />}
      />
      <DeskPageHead
        title={title}
        sentence={
          <>
            <Status status={statusOf(head)} size="desk" /> {where}. {sentence ?? head.what}
          </>
        }
        actions={actions}
      />
      {children}
    </PrefsProvider>
  )
}
