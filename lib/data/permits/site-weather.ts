import 'server-only'
import type { AreaFacts } from '@/lib/permit/survey'
import type { PermitFacts } from '@/lib/permit/types'
import type { PermitBundle } from './bundle'
import { readAnswer } from './frozen'

type Weather = NonNullable<PermitFacts['weather']>

/**
 * The weather that counts for a permit: the last wind, measured at the work or reported of the site,
 * and none where the work is sheltered. `reported` is what a report says over the walk's own answer.
 */
export function siteWeather(
  { weather, answers }: PermitBundle,
  area: AreaFacts,
): { counts: Weather; reported: Weather } | null {
  if (area.indoors) return null
  const row = answers.findLast((one) => one.item === 'wind')
  const answer = row ? readAnswer(row.answer) : null
  const isBanned = weather.ban?.kind === 'burn_ban'
  const isNewer = weather.wind !== null && (!row || weather.wind.at > row.at)
  const isSheltered = answer?.choice === 'sheltered'
  const reported = isNewer && !isSheltered ? (weather.wind?.mph ?? null) : null
  const measured = isSheltered ? null : (answer?.windMph ?? null)
  return {
    counts: { isBanned, windMph: reported ?? measured },
    reported: { isBanned, windMph: reported },
  }
}
