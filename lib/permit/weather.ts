import { reason } from './reasons'
import type { FrozenDuties, PermitFacts, Reason } from './types'

/** Why the weather, or an authority because of it, forbids work in the open now; indoors it says nothing. */
export function weatherReasons(
  weather: PermitFacts['weather'],
  { windMaxMph }: Pick<FrozenDuties, 'windMaxMph'>,
): Reason[] {
  if (!weather) return []
  const { isBanned, windMph } = weather
  const isOver = windMaxMph !== null && windMph !== null && windMph > windMaxMph
  return [
    ...(isBanned ? [reason('burn_ban')] : []),
    ...(isOver ? [reason('wind_over', { mph: windMph, maxMph: windMaxMph })] : []),
  ]
}
