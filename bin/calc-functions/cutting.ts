import { estimateCutList } from '../../lib/calc/estimate'
import { estimateContext } from '../../lib/calc/estimate-context'
import { estimateTotals } from '../../lib/calc/estimate-totals'
import { suitability } from '../../lib/calc/materials'
import { type Refused, refuse } from '../../lib/calc/refusal'
import {
  namedSection,
  SECTION_TABLE_ID,
  sectionNameOf,
  sectionNames,
} from '../../lib/calc/sections/named-section'
import { OFC_CARBON_STEEL } from '../../lib/calc/tables/ofc-carbon-steel'
import { chartRefusals, chartReport } from '../../lib/calc/tip-chart-check'
import { chartHasFuel, tipSettings } from '../../lib/calc/tip-settings'
import {
  estimateInputSchema,
  sectionInputSchema,
  suitabilityInputSchema,
  tipChartSchema,
  tipSettingsInputSchema,
} from '../../lib/schemas/calc-estimate'
import { type CalcFunctions, calcFunction } from './calc-function'

const fuelRefused = (fuel: string): Refused =>
  refuse([{ code: 'FUEL_NOT_IN_TABLE', field: 'fuel', value: fuel, limit: null }])

export const CUTTING_FUNCTIONS: CalcFunctions = {
  estimate: calcFunction(
    'Gas, time, weight, cylinders and cost of a list of cuts',
    estimateInputSchema,
    estimateCutList,
  ),
  'estimate-totals': calcFunction(
    'Totals of a list of cuts; entries that are refused are left out and named',
    estimateInputSchema,
    ({ cuts, ...settings }) => {
      const outcome = estimateContext(settings)
      return outcome.ok ? { ok: true, ...estimateTotals(cuts, outcome.context) } : outcome
    },
  ),
  'can-be-cut': calcFunction(
    'Whether a metal with its coating is flame-cut, why not, what instead, which precautions',
    suitabilityInputSchema,
    suitability,
  ),
  'tip-settings': calcFunction(
    'Orifice, speed and flows at a thickness, by the built-in table or a chart',
    tipSettingsInputSchema,
    ({ tipChart: chart = OFC_CARBON_STEEL, fuel, pathM, process }) => {
      const refusals = chartRefusals(chart, 'tipChart')
      if (refusals.length > 0) return refuse(refusals)
      if (!chartHasFuel(chart, fuel)) return fuelRefused(fuel)
      return { ok: true, tableId: chart.id, ...tipSettings({ chart, fuel, pathM, process }) }
    },
  ),
  'tip-chart': calcFunction(
    'A tip chart row by row: what is wrong with it, and which rows are under the oxygen floor',
    tipChartSchema,
    (chart) => {
      const refusals = chartRefusals(chart, 'tipChart')
      return refusals.length > 0 ? refuse(refusals) : { ok: true, rows: chartReport(chart) }
    },
  ),
  section: calcFunction(
    'Dimensions and weight of a section by name, as the tables have it',
    sectionInputSchema,
    ({ family, typed }) => {
      const section = namedSection(family, sectionNameOf(family, typed))
      if (section)
        return { ok: true, tableId: SECTION_TABLE_ID[family], provenance: 'from memory', section }
      const limit = { allowed: sectionNames(family) }
      return refuse([{ code: 'UNKNOWN_SECTION', field: 'typed', value: typed, limit }])
    },
  ),
}
