import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import type { TipChartRow } from '@/lib/calc/tables/tip-chart'
import type { Row } from '../facts'
import { namedUuid } from '../ids'
import { personId, type World } from './world'

/** The outfit whose tips are set by the shop's own chart. */
export const CHARTED_OUTFIT = '3'

export const chartId = (world: World) => namedUuid('tip-chart/1', world.startMs)

/** The shop's own number and hole of a tip, by the thickest metal it is taken for. Invented. */
const SHOP_TIPS: readonly (readonly [upToIn: number, tip: string, orificeIn: number])[] = [
  [0.25, '0', 0.04],
  [0.5, '1', 0.05],
  [1, '2', 0.06],
  [2, '3', 0.07],
  [4, '4', 0.082],
  [12, '5', 0.11],
]

function withShopTip({ thicknessIn, speedInPerMin, ...row }: TipChartRow): TipChartRow {
  const [, tip = '5', orificeIn = 0.11] = SHOP_TIPS.find(([upToIn]) => thicknessIn <= upToIn) ?? []
  const { acetylene = [3, 9] } = row.fuelFt3PerH
  return {
    thicknessIn,
    tip,
    orificeIn: [orificeIn, orificeIn],
    speedInPerMin,
    cuttingOxygenFt3PerH: row.cuttingOxygenFt3PerH,
    fuelFt3PerH: { acetylene },
  }
}

/** One chart of the shop's own: its tips are invented, its speeds and flows those of the built-in table. */
export function chartRow(world: World): Row {
  return {
    id: chartId(world),
    site_id: world.siteIds.mill,
    title: 'Shop tips 0 to 5, acetylene',
    source: 'Card on the shop wall; invented for the demo company, flows as in the built-in table',
    fuel_gas_id: 'acetylene',
    materials: { json: [...OFC_CARBON_STEEL.materials] },
    rows: { json: OFC_CARBON_STEEL.rows.map(withShopTip) },
    created_by: personId(world, 'nils'),
  }
}
