import { auditJob } from '../../lib/calc/audit'
import { forecastSite } from '../../lib/calc/forecast'
import { auditInputSchema, forecastInputSchema } from '../../lib/schemas/calc-input'
import { type CalcFunctions, calcFunction } from './calc-function'

export const PLANNING_FUNCTIONS: CalcFunctions = {
  audit: calcFunction(
    'What a job used by its cylinder readings, beside its estimate',
    auditInputSchema,
    auditJob,
  ),
  forecast: calcFunction(
    'Cylinders that a site will need, day by day, and when to order',
    forecastInputSchema,
    forecastSite,
  ),
}
