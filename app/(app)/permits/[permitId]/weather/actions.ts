'use server'

import type { ActionResult } from '@/lib/action-result'
import { reportWeather, type WeatherKept } from '@/lib/data/permits/weather'
import { weatherReportSchema } from '@/lib/schemas/weather'
import { runAction } from '../../run-action'

type Result = ActionResult<WeatherKept>

export async function reportWeatherAction(
  _previous: Result | null,
  formData: FormData,
): Promise<Result> {
  return runAction({ schema: weatherReportSchema, formData }, reportWeather)
}
