import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { Role } from '@/lib/access/access'
import type { PeoplePage, PersonRow } from '@/lib/data/people'
import { formatDate } from '@/lib/format/clock'
import { QUALIFICATION_KINDS } from '@/lib/schemas/people'
import { HoldingCell } from './holding-cell'
import { PersonForms } from './person-forms'

type TableProps = Readonly<{ page: PeoplePage; after: string | null; chosenId: string | null }>

/** Who may do what, where and until when. On a phone each row stands as a block. */
export function PeopleTable({ page, after, chosenId }: TableProps) {
  const t = useTranslations('people')
  return (
    <DataTable
      caption={t('caption')}
      className="people-table"
      head={
        <>
          <Column>{t('person')}</Column>
          <Column>{t('crew')}</Column>
          <Column>{t('rolesAt')}</Column>
          {QUALIFICATION_KINDS.map((kind) => (
            <Column key={kind}>{t(`kinds.${kind}`)}</Column>
          ))}
          {page.mayWrite ? <Column aria-label={t('changeColumn')} /> : null}
        </>
      }
    >
      <tbody>
        {page.people.map((person) => (
          <Person
            key={person.id}
            person={person}
            page={page}
            after={after}
            isChosen={page.mayWrite && person.id === chosenId}
          />
        ))}
      </tbody>
    </DataTable>
  )
}

type PersonProps = Readonly<{
  person: PersonRow
  page: PeoplePage
  after: string | null
  isChosen: boolean
}>

function Person({ person, page, after, isChosen }: PersonProps) {
  const t = useTranslations('people')
  const kept = after ? { after } : {}
  const href = isChosen
    ? `/people?${new URLSearchParams(kept)}#${person.id}`
    : `/people?${new URLSearchParams({ ...kept, change: person.id })}#${person.id}`
  return (
    <>
      <tr id={person.id} className={isChosen ? 'is-chosen' : undefined}>
        <th scope="row">
          <Link className="text-link" href={`/people/${person.id}`}>
            {person.name}
          </Link>
          {person.firm ? (
            <span className="type-small text-ink-2">
              {' '}
              {t('papers.ofFirm', { firm: person.firm })}
            </span>
          ) : null}
          <Shut person={person} timeZone={page.timeZone} />
        </th>
        <td className="text-ink-2">{person.crewNames.join(', ')}</td>
        <td>
          <Roles person={person} siteCount={page.sites.length} />
        </td>
        {QUALIFICATION_KINDS.map((kind) => (
          <HoldingCell key={kind} one={person.holdings.find((held) => held.kind === kind)} />
        ))}
        {page.mayWrite ? (
          <td className="people-change desk:text-right">
            <Link
              href={href}
              className="text-link inline-block"
              aria-label={t(isChosen ? 'closeChange' : 'change', { name: person.name })}
            >
              {t(isChosen ? 'closeWord' : 'changeWord')}
            </Link>
          </td>
        ) : null}
      </tr>
      {isChosen ? (
        <tr className="opening-row">
          <td colSpan={8}>
            <div className="opening-panel">
              <PersonForms person={person} sites={page.sites} />
            </div>
          </td>
        </tr>
      ) : null}
    </>
  )
}

/** What keeps a person from acting at all, by word and mark. */
function Shut({ person, timeZone }: Readonly<{ person: PersonRow; timeZone: string }>) {
  const t = useTranslations('people')
  const words = [
    person.disabledAt
      ? t('isDisabled', { day: formatDate(person.disabledAt, { timeZone }) })
      : null,
    person.isNew ? t('isNew') : null,
    person.isWithoutPin && !person.isNew ? t('noPin') : null,
  ].filter((word) => word !== null)
  return words.map((word) => (
    <span key={word} className="people-shut">
      <AnswerMark name="refused" sizePx={14} />
      {word}
    </span>
  ))
}

/** "Foreman, PAI: Ostrander": roles held at the same sites stand together. */
function Roles({ person, siteCount }: Readonly<{ person: PersonRow; siteCount: number }>) {
  const t = useTranslations('people')
  return groupsOf(person.grants).map(({ roles, siteNames }, index) => (
    <span key={roles.join()}>
      {index > 0 ? '. ' : ''}
      {t('rolesOf', {
        roles: roles.map((role) => t(`roles.${role}`)).join(', '),
        sites:
          siteCount > 1 && siteNames.length === siteCount ? t('allSites') : siteNames.join(', '),
      })}
    </span>
  ))
}

function groupsOf(grants: PersonRow['grants']) {
  const groups = new Map<string, { roles: Role[]; siteNames: string[] }>()
  for (const role of new Set(grants.map((grant) => grant.role))) {
    const siteNames = grants.filter((one) => one.role === role).map((one) => one.siteName)
    const group = groups.get(siteNames.join()) ?? { roles: [], siteNames }
    group.roles.push(role)
    groups.set(siteNames.join(), group)
  }
  return [...groups.values()]
}
