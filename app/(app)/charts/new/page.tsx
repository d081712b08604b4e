import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import type { Range } from '@/lib/calc/tables/tip-chart'
import { getChart, listCharts, type OwnChart } from '@/lib/data/tip-charts'
import { ChartForm } from './chart-form'

type NewChartProps = Readonly<{ searchParams: Promise<{ from?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('charts'))('enter') }
}

export default async function NewChartPage({ searchParams }: NewChartProps) {
  const viewer = await requireViewer()
  const { from } = await searchParams
  const { sites } = await found(listCharts(viewer))
  if (sites.length === 0) notFound()
  const before = from ? await found(getChart(viewer, from)) : null
  const t = await getTranslations('charts')
  const title = before ? t('editionOf', { title: before.title }) : t('enter')
  return (
    <>
      <PhoneHead title={title} backHref={before ? `/charts/${before.id}` : '/charts'} />
      <DeskPageHead title={title} sentence={t('enterSentence')} />
      <div className="px-4 py-2 desk:px-8">
        <ChartForm
          sites={sites}
          siteId={before?.siteId ?? sites[0]?.id ?? ''}
          replacesId={before?.id ?? ''}
          title={before?.title ?? ''}
          source={before?.chart.source ?? ''}
          fuel={before?.fuelGasId ?? 'acetylene'}
          material={before?.chart.materials[0] ?? 'carbon_steel'}
          rows={before ? typedRows(before) : ''}
        />
      </div>
    </>
  )
}

const typed = (range: Range | null | undefined) =>
  !range ? '' : range[0] === range[1] ? String(range[0]) : `${range[0]}-${range[1]}`

/** A chart as it would be pasted again: its head, then a line a thickness. */
function typedRows({ chart, fuelGasId }: OwnChart): string {
  const fuel = fuelGasId as 'acetylene'
  const lines = chart.rows.map((row) =>
    [
      row.thicknessIn,
      row.tip ?? '',
      typed(row.orificeIn),
      typed(row.speedInPerMin),
      typed(row.cuttingOxygenFt3PerH),
      typed(row.fuelFt3PerH[fuel]),
      typed(row.oxygenPsig),
      typed(row.fuelPsig?.[fuel]),
    ].join('\t'),
  )
  return [
    'Thickness (in)\tTip\tOrifice (in)\tSpeed (in/min)\tOxygen (ft3/h)\tFuel (ft3/h)\tOxygen pressure (psi)\tFuel pressure (psi)',
    ...lines,
  ].join('\n')
}
