const MINUTE_MS = 60_000
const HOUR_MS = 3_600_000
const DAY_MS = 86_400_000

export interface DurationPart {
  readonly value: string
  readonly unit?: 'h' | 'min' | 's' | 'day' | 'days'
}

/**
 * "3 h 02", "24 min", in the last minute "45 s". A started minute counts whole, so that the number
 * agrees with the two clock times it lies between and nothing ends before it shows 0.
 */
export function durationParts(ms: number): DurationPart[] {
  const leftMs = Math.max(0, ms)
  if (leftMs > 0 && leftMs < MINUTE_MS)
    return [{ value: String(Math.ceil(leftMs / 1000)), unit: 's' }]
  const minutes = Math.ceil(leftMs / MINUTE_MS)
  if (minutes < 60) return [{ value: String(minutes), unit: 'min' }]
  return [
    { value: String(Math.floor(minutes / 60)), unit: 'h' },
    { value: String(minutes % 60).padStart(2, '0') },
  ]
}

/** For what is not certain: minutes to 2 h, whole hours to 2 days, then days. Always said with "about". */
export function aboutDurationParts(ms: number): DurationPart[] {
  const leftMs = Math.max(0, ms)
  const minutes = Math.round(leftMs / MINUTE_MS)
  if (minutes < 60) return [{ value: String(minutes), unit: 'min' }]
  if (leftMs < 10 * HOUR_MS)
    return [
      { value: String(Math.floor(minutes / 60)), unit: 'h' },
      { value: String(minutes % 60).padStart(2, '0') },
    ]
  if (leftMs < 2 * DAY_MS) return [{ value: String(Math.round(leftMs / HOUR_MS)), unit: 'h' }]
  return [{ value: String(Math.round(leftMs / DAY_MS)), unit: 'days' }]
}

export function joinDuration(parts: readonly DurationPart[]): string {
  return parts
    .map((part) => (part.unit ? `${part.value}\u00a0${part.unit}` : part.value))
    .join('\u00a0')
}

/** "1 h 23", "24 min". */
export function formatDuration(ms: number): string {
  return joinDuration(durationParts(ms))
}

export function formatAboutDuration(ms: number): string {
  return joinDuration(aboutDurationParts(ms))
}
