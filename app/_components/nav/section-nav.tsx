import { getTranslations } from 'next-intl/server'
import { roleCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { SectionLinks } from './section-links'
import { SECTIONS, type Section } from './sections'

type SectionNavProps = Readonly<{
  section: Section
  viewer: Viewer
  /** The site that the pages are to stay at; without it each chooses its own. */
  siteId?: string
}>

/** The pages beside this one that the viewer may open. */
export async function SectionNav({ section, viewer, siteId }: SectionNavProps) {
  const t = await getTranslations('nav')
  const pages = SECTIONS[section]
    .filter(({ needs }) => viewer.roles.some((role) => roleCan(role, needs)))
    .map(({ href, label }) => ({
      path: href,
      href: siteId ? `${href}?site=${siteId}` : href,
      words: t(`pages.${label}`),
    }))
  return <SectionLinks label={t(`sections.${section}`)} pages={pages} />
}
