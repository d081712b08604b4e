import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { requireViewer } from '@/lib/auth/viewer'
import { listPeople, type PeoplePage } from '@/lib/data/people'
import { CrewsTable } from './crews-table'
import { OutfitsTable } from './outfits-table'
import { PeopleTable } from './people-table'

type PeopleProps = Readonly<{ searchParams: Promise<{ after?: string; change?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('people'))('title') }
}

export default async function PeopleScreen({ searchParams }: PeopleProps) {
  const viewer = await requireViewer()
  const { after, change } = await searchParams
  const page = await found(listPeople(viewer, after ?? null))
  const t = await getTranslations('people')
  const sentence = <Needs page={page} />
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: page.timeZone }
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/me" />
      <DeskPageHead title={t('title')} sentence={sentence} actions={<SetUpLinks page={page} />} />
      <SectionNav section="gear" viewer={viewer} />
      <div className="grid gap-10 px-4 pb-8 desk:px-8">
        <section>
          <h2 className="sr-only">{t('people')}</h2>
          <PeopleTable page={page} after={after ?? null} chosenId={change ?? null} />
          <div className="pt-3 desk:hidden">
            <SetUpLinks page={page} />
          </div>
          {page.next ? (
            <p className="py-3">
              <ButtonLink href={`/people?${new URLSearchParams({ after: page.next })}`}>
                {t('morePeople')}
              </ButtonLink>
            </p>
          ) : null}
        </section>
        <div className="grid gap-10 wide:grid-cols-[minmax(0,2fr)_minmax(0,1fr)] wide:gap-12">
          <section>
            <h2 className="type-section mb-1">{t('outfits')}</h2>
            <OutfitsTable page={page} prefs={prefs} />
            <p className="flex flex-wrap gap-3 pt-3">
              {page.mayAddOutfits ? (
                <ButtonLink href="/outfits/new">{t('addOutfit')}</ButtonLink>
              ) : null}
            </p>
          </section>
          <section>
            <h2 className="type-section mb-1">{t('crews')}</h2>
            <CrewsTable crews={page.crews} mayWrite={page.mayWrite} />
            {page.mayWrite ? <Places page={page} /> : null}
          </section>
        </div>
      </div>
      <ListFiles lists={['people', 'qualifications', 'crews', 'outfits', 'parts', 'gearChecks']} />
    </>
  )
}

/** Where the viewer works, each a door to its address, words and areas. */
async function Places({ page }: Readonly<{ page: PeoplePage }>) {
  const t = await getTranslations('places')
  return (
    <div className="mt-8">
      <h2 className="type-section mb-1 border-b-2 border-ink pb-1">{t('heading')}</h2>
      <ul className="plain-rows mb-3">
        {page.sites.map((site) => (
          <PlainRow key={site.id} href={`/sites/${site.id}`} title={site.name} />
        ))}
      </ul>
      <ButtonLink href="/sites/new">{t('add')}</ButtonLink>
    </div>
  )
}

/** What an administrator may add. */
async function SetUpLinks({ page }: Readonly<{ page: PeoplePage }>) {
  if (!page.mayWrite) return null
  const t = await getTranslations('people')
  return (
    <span className="inline-flex flex-wrap gap-3">
      <ButtonLink href="/people/new">{t('addPerson')}</ButtonLink>
      <ButtonLink href="/people/crews/new">{t('crewForm.add')}</ButtonLink>
    </span>
  )
}

/** What needs someone: cards that have run out or soon will, outfits that may not be lit. */
async function Needs({ page }: Readonly<{ page: PeoplePage }>) {
  const t = await getTranslations('people')
  const { ended, soon } = page.troubles
  const out = page.outfits.filter((outfit) => !outfit.isInService).length
  const b = (words: React.ReactNode) => <b>{words}</b>
  return (
    <>
      {ended + soon > 0 ? t.rich('needCards', { ended, soon, b }) : t('allQualified')}{' '}
      {out > 0 ? t.rich('needOutfits', { out, b }) : t('allInService')}
    </>
  )
}
