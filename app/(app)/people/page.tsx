import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import {
  type Holding,
  listPeople,
  type OutfitRow,
  type PeoplePage,
  type PersonRow,
} from '@/lib/data/people'
import { formatDate } from '@/lib/format/clock'
import { PersonForms } from './person-forms'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('people'))('title') }
}

export default async function PeopleScreen() {
  const viewer = await requireViewer()
  const page = await found(listPeople(viewer))
  const t = await getTranslations('people')
  const sentence = t('sentence', { people: page.people.length, outfits: page.outfits.length })
  return (
    <>
      <PhoneHead title={t('title')} where={sentence} backHref="/me" />
      <DeskPageHead title={t('title')} sentence={sentence} />
      <div className="grid gap-10 px-4 py-2 desk:px-8 wide:grid-cols-[minmax(0,5fr)_minmax(0,3fr)] wide:gap-12">
        <section>
          <h2 className="type-section border-b-2 border-ink pb-1">{t('people')}</h2>
          <ul>
            {page.people.map((person) => (
              <Person key={person.id} person={person} page={page} />
            ))}
          </ul>
        </section>
        <section>
          <h2 className="type-section border-b-2 border-ink pb-1">{t('outfits')}</h2>
          <ul>
            {page.outfits.map((outfit) => (
              <Outfit key={outfit.id} outfit={outfit} />
            ))}
          </ul>
        </section>
      </div>
    </>
  )
}

async function Person({ person, page }: Readonly<{ person: PersonRow; page: PeoplePage }>) {
  const t = await getTranslations('people')
  const roles = person.grants.map((grant) =>
    t('grantAt', { role: t(`roles.${grant.role}`), site: grant.siteName }),
  )
  return (
    <li className="border-b border-rule py-2">
      <p className="flex flex-wrap items-baseline justify-between gap-x-4">
        <span className="type-row-title">{person.name}</span>
        <span className="type-small text-ink-2">{person.crewNames.join(', ')}</span>
      </p>
      <p className="type-small text-ink-2">{roles.join('. ')}</p>
      {person.isDisabled ? <p className="trouble">{t('isDisabled')}</p> : null}
      {person.hasPin ? null : <p className="type-small text-heat">{t('noPin')}</p>}
      <ul className="flex flex-wrap gap-x-6">
        {person.qualifications.map((one) => (
          <Qualified key={one.kind} one={one} />
        ))}
      </ul>
      {page.mayWrite ? (
        <details className="mt-1">
          <summary className="text-link inline-block cursor-pointer py-1">
            {t('change', { name: person.name })}
          </summary>
          <div className="mt-3 border-l-4 border-cobalt pl-4">
            <PersonForms
              personId={person.id}
              isDisabled={person.isDisabled}
              grants={person.grants.map((grant, index) => ({
                id: grant.id,
                label: roles[index] ?? '',
              }))}
              sites={page.sites.map((site) => ({ value: site.id, label: site.name }))}
            />
          </div>
        </details>
      ) : null}
    </li>
  )
}

async function Qualified({ one }: Readonly<{ one: Holding }>) {
  const t = await getTranslations('people')
  const isTrouble = one.standing !== 'holds'
  return (
    <li
      className={`flex items-center gap-1.5 type-small ${isTrouble ? 'font-[650] text-heat' : 'text-ink-2'}`}
    >
      <AnswerMark
        name={
          { holds: 'done', soon: 'due', ended: 'refused', not_begun: 'to-answer' }[
            one.standing
          ] as 'done'
        }
      />
      {t(`standing.${one.standing}`, {
        kind: t(`kinds.${one.kind as 'pai'}`),
        day: formatDate(one.standing === 'not_begun' ? one.validFrom : one.validUntil, {
          timeZone: 'UTC',
        }),
      })}
    </li>
  )
}

async function Outfit({ outfit }: Readonly<{ outfit: OutfitRow }>) {
  const t = await getTranslations('people')
  const g = await getTranslations('permit.vessel.gas')
  return (
    <li className="border-b border-rule py-2">
      <p className="flex items-baseline justify-between gap-4">
        <span className="type-row-title">
          {t('outfit', {
            number: outfit.number,
            fuel: g(outfit.fuelGasId as 'propane').toLowerCase(),
          })}
        </span>
        <span className="type-small text-ink-2">
          {[outfit.siteName, outfit.crewName].filter(Boolean).join(', ')}
        </span>
      </p>
      {outfit.isInService ? null : (
        <p className="trouble">
          <AnswerMark name="refused" />
          {t('outOfService', { reason: outfit.reason ?? '' })}
        </p>
      )}
      <p className="type-small text-ink-2">
        {outfit.parts
          .map((part) =>
            part.shopTip ? t('partTip', { name: part.name, tip: part.shopTip }) : part.name,
          )
          .join(', ')}
      </p>
    </li>
  )
}
