const MORNING = 7

/**
 * A zone of whole hours in which it is between seven and eight now, so that a test meets neither midnight nor the
 * end of the shift.
 */
export function morningZone(nowMs: number): string {
  const ahead = ((((MORNING - new Date(nowMs).getUTCHours()) % 24) + 36) % 24) - 12
  return ahead === 0 ? 'Etc/GMT' : `Etc/GMT${ahead > 0 ? '-' : '+'}${Math.abs(ahead)}` // signs run the other way there
}
