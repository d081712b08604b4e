import type { PermitState } from './types'

export const INCIDENT_KINDS = ['flashback', 'burn', 'spot_fire', 'near_miss'] as const
export type IncidentKind = (typeof INCIDENT_KINDS)[number]

export const INCIDENT_FOLLOWS = ['holds', 'restarts_watch', 'quarantines_outfit'] as const

/** What an incident brings with it at once; a key under `incidents.follows`. */
export type IncidentFollows = (typeof INCIDENT_FOLLOWS)[number]

/**
 * What follows at once. House rules, no source, save the quarantine: after a flashback hoses,
 * regulators and arrestors are looked over before the outfit is lit again (common practice, no source).
 *
 * @param kind what happened
 * @param state of the permit it happened under; null under none
 */
export function incidentFollows(kind: IncidentKind, state: PermitState | null): IncidentFollows[] {
  const isWatched = state === 'held' || state === 'watch'
  return [
    ...(state === 'open' && kind !== 'near_miss' ? (['holds'] as const) : []),
    ...(isWatched && kind === 'spot_fire' ? (['restarts_watch'] as const) : []),
    ...(kind === 'flashback' ? (['quarantines_outfit'] as const) : []),
  ]
}
