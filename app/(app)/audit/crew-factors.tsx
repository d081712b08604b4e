import { useTranslations } from 'next-intl'
import { rangeScale } from '@/app/_components/bar/scale'
import { FactorWhisker } from '@/app/_components/charts/factor-whisker'
import { ValueAxisHead } from '@/app/_components/charts/value-axis-head'
import { ButtonLink } from '@/app/_components/controls/button'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { PlainRow } from '@/app/_components/row'
import type { CrewFactorRow, CrewPage } from '@/lib/data/company-crews'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import { FileLink } from './file-link'

const WHISKER_PX = 150

type CrewFactorsProps = Readonly<{ page: CrewPage; nextHref: string | null; csvHref: string }>

const twoPlaces = (value: number | null) => (value === null ? '–' : formatNumber(value, 2))

/** How each crew runs against the table, and how far its own record was believed. */
export function CrewFactors({ page, nextHref, csvHref }: CrewFactorsProps) {
  const t = useTranslations('audit.crews')
  const { company, rows } = page
  return (
    <section className="min-w-0">
      <h2 className="type-section mb-1 max-desk:border-b-2 max-desk:border-ink">{t('title')}</h2>
      {rows.length === 0 || !company ? (
        <p className="py-2">{t('none')}</p>
      ) : (
        <>
          <CrewTable crews={rows} />
          <ul className="plain-rows max-desk:-mx-4 desk:hidden">
            {rows.map((crew) => (
              <PlainRow
                key={`${crew.siteName} ${crew.crewName}`}
                title={t('crewAt', { crew: crew.crewName, site: crew.siteName })}
                note={t('rowNote', {
                  own: twoPlaces(crew.own),
                  weight: percentOf(crew),
                  site: twoPlaces(crew.siteFactor),
                  jobs: crew.jobs,
                })}
                aside={`${twoPlaces(crew.mean)} (${formatInterval(crew.low90, crew.high90, 2)})`}
              />
            ))}
          </ul>
          <p className="mt-2 type-small text-ink-2">
            {t('method', {
              mean: twoPlaces(company.mean),
              interval: formatInterval(company.low90, company.high90, 2),
              jobs: company.jobs,
            })}{' '}
            <FileLink href={csvHref}>{t('csv')}</FileLink>
          </p>
        </>
      )}
      {nextHref ? (
        <p className="py-2">
          <ButtonLink href={nextHref}>{t('more')}</ButtonLink>
        </p>
      ) : null}
    </section>
  )
}

const percentOf = ({ credibility }: CrewFactorRow) =>
  credibility === null ? '–' : `${Math.round(credibility * 100)} %`

function CrewTable({ crews }: Readonly<{ crews: readonly CrewFactorRow[] }>) {
  const t = useTranslations('audit.crews')
  const ends = crews.flatMap((crew) => [crew.low90, crew.high90])
  const scale = rangeScale({
    from: Math.min(0.8, ...ends) - 0.05,
    to: Math.max(1.2, ...ends) + 0.05,
    widthPx: WHISKER_PX,
  })
  return (
    <div className="hidden desk:block">
      <DataTable
        caption={t('caption')}
        head={
          <>
            <Column>{t('crew')}</Column>
            <Column isFigure>{t('jobs')}</Column>
            <Column isFigure>{t('own')}</Column>
            <Column isFigure>{t('weight')}</Column>
            <Column isFigure>{t('site')}</Column>
            <th scope="col" className="hidden wide:table-cell" aria-label={t('drawn')}>
              <ValueAxisHead scale={scale} step={0.2} decimals={1} />
            </th>
            <Column isFigure colSpan={2}>
              {t('factor')}
            </Column>
          </>
        }
      >
        <tbody>
          {crews.map((crew) => (
            <tr key={`${crew.siteName} ${crew.crewName}`}>
              <td>{t('crewAt', { crew: crew.crewName, site: crew.siteName })}</td>
              <td className="is-figure">{crew.jobs}</td>
              <td className="is-figure">{twoPlaces(crew.own)}</td>
              <td className="is-figure">{percentOf(crew)}</td>
              <td className="is-figure">{twoPlaces(crew.siteFactor)}</td>
              <td className="hidden wide:table-cell">
                <FactorWhisker
                  scale={scale}
                  value={crew.mean}
                  low={crew.low90}
                  high={crew.high90}
                  heightPx={28}
                />
              </td>
              <FigureCells
                value={twoPlaces(crew.mean)}
                interval={formatInterval(crew.low90, crew.high90, 2)}
                isTrouble={crew.low90 > 1}
              />
            </tr>
          ))}
        </tbody>
      </DataTable>
    </div>
  )
}
