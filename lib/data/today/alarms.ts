import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { db } from '../client'

export type Alarm = Readonly<{
  id: string
  kind: 'stop_pressed' | 'smoke'
  atMs: number
  permitId: string
  number: string
  areaName: string
  emergencyWords: string
}>

const LOUD_FOR_MIN = 30

/** What rings this person's phone: a stop or smoke of the last half hour that they have not said they saw. */
export async function listAlarms(viewer: Viewer): Promise<Alarm[]> {
  const rows = await db.$queryRaw<
    {
      id: string
      kind: Alarm['kind']
      at: Date
      permit_id: string
      number: string
      area: string
      words: string
    }[]
  >`
    SELECT DISTINCT ON (n.subject_id, n.kind) n.id, n.kind, n.at, p.id AS permit_id, j.number || '-' || p.number AS number, a.name AS area, s.emergency_words AS words
    FROM notices n JOIN permits p ON p.id = n.subject_id JOIN jobs j ON j.id = p.job_id JOIN areas a ON a.id = p.area_id JOIN sites s ON s.id = p.site_id
    WHERE n.person_id = ${viewer.personId}::uuid AND n.kind IN ('stop_pressed', 'smoke') AND n.seen_at IS NULL
      AND n.at > kerf_now() - make_interval(mins => ${LOUD_FOR_MIN}) AND n.site_id = ANY (${viewer.grants.map((grant) => grant.siteId)}::uuid[])
    ORDER BY n.subject_id, n.kind, n.at DESC LIMIT 6`
  return rows.map((row) => ({
    id: row.id,
    kind: row.kind,
    atMs: row.at.getTime(),
    permitId: row.permit_id,
    number: row.number,
    areaName: row.area,
    emergencyWords: row.words,
  }))
}
