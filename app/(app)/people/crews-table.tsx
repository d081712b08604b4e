import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import type { CrewRow } from '@/lib/data/people-gear'

/** Crews, where they work now, and who of the viewer's sites is in them. */
export function CrewsTable({
  crews,
  mayWrite,
}: Readonly<{ crews: readonly CrewRow[]; mayWrite: boolean }>) {
  const t = useTranslations('people')
  if (crews.length === 0) return <p className="type-note text-ink-2">{t('noCrews')}</p>
  return (
    <DataTable
      caption={t('crewsCaption')}
      className="people-table"
      head={
        <>
          <Column>{t('crew')}</Column>
          <Column>{t('worksAt')}</Column>
          <Column>{t('members')}</Column>
        </>
      }
    >
      <tbody>
        {crews.map((crew) => (
          <tr key={crew.id}>
            <th scope="row">
              {mayWrite && crew.siteName ? (
                <Link className="text-link" href={`/people/crews/${crew.id}`}>
                  {crew.name}
                </Link>
              ) : (
                crew.name
              )}
            </th>
            <td>{crew.siteName ?? t('elsewhere')}</td>
            <td className="text-ink-2">{crew.members.map((member) => member.name).join(', ')}</td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}
