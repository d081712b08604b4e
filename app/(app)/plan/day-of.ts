const DAY_MS = 86_400_000

/** Midnight, in UTC, of a day so many from a site's own; read with `timeZone: 'UTC'`. */
export const dayOf = (today: string, days: number): number =>
  Date.parse(`${today}T00:00:00Z`) + days * DAY_MS
