import 'server-only'
import { AppError } from '@/lib/errors'
import type { PermitState } from '@/lib/permit/types'
import { db } from '../client'

/** What the sheet on the wall says, for whoever scans it. Nothing of the people on it. */
export type Posted = Readonly<{
  permitId: string
  number: string
  what: string
  whereWords: string
  areaName: string
  siteName: string
  zone: string
  emergencyWords: string
  state: PermitState
  stopPressedAt: Date | null
  stoppedAt: Date | null
  validUntil: Date | null
  now: Date
}>

interface Row {
  id: string
  number: number
  job_number: string
  what: string
  where_words: string
  area: string
  site: string
  zone: string
  emergency_words: string
  state: string
  stop_pressed_at: Date | null
  stopped_at: Date | null
  valid_until: Date | null
  now: Date
}

/** Reads a permit by its posted code. No viewer: whoever holds the code may see this much. */
export async function getPosted(code: string): Promise<Posted> {
  const [row] = await db.$queryRaw<Row[]>`
    SELECT p.id, p.number, j.number AS job_number, p.what, p.where_words, a.name AS area, s.name AS site, s.zone, s.emergency_words,
           p.state, p.stop_pressed_at, p.stopped_at, p.valid_until, kerf_now() AS now
    FROM permits p JOIN jobs j ON j.id = p.job_id JOIN areas a ON a.id = p.area_id JOIN sites s ON s.id = p.site_id
    WHERE p.stop_code = ${code}`
  if (!row) throw new AppError('NOT_FOUND')
  return {
    permitId: row.id,
    number: `${row.job_number}-${row.number}`,
    what: row.what,
    whereWords: row.where_words,
    areaName: row.area,
    siteName: row.site,
    zone: row.zone,
    emergencyWords: row.emergency_words,
    state: row.state as PermitState, // a CHECK holds the column to these
    stopPressedAt: row.stop_pressed_at,
    stoppedAt: row.stopped_at,
    validUntil: row.valid_until,
    now: row.now,
  }
}
