import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import { numberDrillOf } from '@/lib/calc/tables/number-drills'
import type { Range, TipChart } from '@/lib/calc/tables/tip-chart'
import { formatNumber } from '@/lib/format/numbers'
import { CUT_FUELS } from '@/lib/schemas/cut'

const plain = (value: number, decimals: number) =>
  formatNumber(value, decimals)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '')
const words = (range: Range | null | undefined, decimals: number) =>
  !range
    ? '–'
    : range[0] === range[1]
      ? plain(range[0], decimals)
      : `${plain(range[0], decimals)}–${plain(range[1], decimals)}`

/** The drill that makes a hole of one size. */
function Drill({ orificeIn }: Readonly<{ orificeIn: Range | null }>) {
  const t = useTranslations('charts')
  const number = orificeIn && orificeIn[0] === orificeIn[1] ? numberDrillOf(orificeIn[0]) : null
  return number === null ? null : <small className="type-small"> {t('drill', { number })}</small>
}

/** A chart in the units of its print, a line a thickness. A tip's number stands only in a shop's own. */
export function ChartTable({ chart }: Readonly<{ chart: TipChart }>) {
  const [t, jobs] = [useTranslations('charts'), useTranslations('jobs')]
  const fuels = CUT_FUELS.filter((fuel) => chart.rows.some((row) => row.fuelFt3PerH[fuel]))
  const hasTips = chart.provenance === 'entered' && chart.rows.some((row) => row.tip)
  const hasPressure = chart.rows.some((row) => row.oxygenPsig || row.fuelPsig)
  return (
    <DataTable
      isWide
      caption={chart.title}
      head={
        <>
          <Column isFigure>{t('column.thickness')}</Column>
          {hasTips ? <Column>{t('column.tip')}</Column> : null}
          <Column isFigure>{t('column.orifice')}</Column>
          <Column isFigure>{t('column.speed')}</Column>
          <Column isFigure>{t('column.oxygen')}</Column>
          {fuels.map((fuel) => (
            <Column key={fuel} isFigure>
              {t('fuelFlow', { gas: jobs(`gas.${fuel}`) })}
            </Column>
          ))}
          {hasPressure ? (
            <>
              <Column isFigure>{t('column.oxygenPressure')}</Column>
              <Column isFigure>{t('column.fuelPressure')}</Column>
            </>
          ) : null}
        </>
      }
    >
      <tbody>
        {chart.rows.map((row) => (
          <tr key={row.thicknessIn}>
            <td className="is-figure">
              <b>{plain(row.thicknessIn, 4)}</b>
            </td>
            {hasTips ? <td>{row.tip}</td> : null}
            <td className="is-figure">
              {words(row.orificeIn, 4)}
              <Drill orificeIn={row.orificeIn} />
            </td>
            <td className="is-figure">{words(row.speedInPerMin, 1)}</td>
            <td className="is-figure">{words(row.cuttingOxygenFt3PerH, 1)}</td>
            {fuels.map((fuel) => (
              <td key={fuel} className="is-figure">
                {words(row.fuelFt3PerH[fuel], 1)}
              </td>
            ))}
            {hasPressure ? (
              <>
                <td className="is-figure">{words(row.oxygenPsig, 1)}</td>
                <td className="is-figure">
                  {words(fuels.map((fuel) => row.fuelPsig?.[fuel]).find(Boolean), 1)}
                </td>
              </>
            ) : null}
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}
