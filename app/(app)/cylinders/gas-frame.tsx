import type { ReactNode } from 'react'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import type { Viewer } from '@/lib/access/viewer'

type GasFrameProps = Readonly<{
  title: string
  /** One line under it: where, and when. */
  where: ReactNode
  back: string
  viewer: Viewer
  zone: string
  /** A list's page stands beside the others of its section; a thing's own page does not. */
  siteId?: string
  children: ReactNode
}>

/** The head of a page about a site's cylinders, on both screens, with the viewer's own units and clock. */
export function GasFrame({ title, where, back, viewer, zone, siteId, children }: GasFrameProps) {
  return (
    <PrefsProvider prefs={{ units: viewer.units, clock: viewer.clock, timeZone: zone }}>
      <PhoneHead title={title} where={where} backHref={back} />
      <DeskPageHead title={title} sentence={where} />
      {siteId ? <SectionNav section="gas" viewer={viewer} siteId={siteId} /> : null}
      {children}
    </PrefsProvider>
  )
}
