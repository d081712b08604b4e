import 'server-only'
import { normalInterval } from '@/lib/calc/stats'
import { db } from './client'

export type CrewFactorRow = Readonly<{
  crewName: string
  siteName: string
  mean: number
  low90: number
  high90: number
  jobs: number
  /** Its own record, and how far that was believed; null where that was not kept. */
  own: number | null
  credibility: number | null
  /** Of its site, that it is drawn towards. */
  siteFactor: number | null
}>

export type CrewPage = Readonly<{
  /** Mean of all crews with its interval; null where too little is known. */
  company: Readonly<{ mean: number; low90: number; high90: number; jobs: number }> | null
  /** Those that run highest first. */
  rows: readonly CrewFactorRow[]
  next: string | null
}>

type Asked = Readonly<{ siteIds: readonly string[]; after: string | null; most: number }>

const NO_ID = '00000000-0000-0000-0000-000000000000'
const CURSOR = /^([0-9.e+-]+)~([0-9a-f-]{36})$/

type Row = Omit<CrewFactorRow, 'low90' | 'high90'> & Readonly<{ id: string; u: number }>

/** Crews at these sites by what was last learned of them, after a cursor; one that nobody gave out reads from the top. */
export async function pageOfCrews({ siteIds, after, most }: Asked): Promise<CrewPage> {
  const [, mean, id] = CURSOR.exec(after ?? '') ?? []
  const isAfter = mean !== undefined && Number.isFinite(Number(mean))
  const [company, found] = await Promise.all([
    readCompany(),
    db.$queryRaw<Row[]>`
      WITH learned AS (SELECT factors FROM crew_factors ORDER BY learned_at DESC LIMIT 1),
      told AS (
        SELECT c.id, c.name AS "crewName", s.short_name AS "siteName", (f.value ->> 'mean')::float8 AS mean, (f.value ->> 'u')::float8 AS u,
               (f.value ->> 'jobs')::int AS jobs, (f.value ->> 'own')::float8 AS own, (f.value ->> 'credibility')::float8 AS credibility,
               (l.factors #>> ARRAY['sites', c.site_id::text, 'mean'])::float8 AS "siteFactor"
        FROM learned l CROSS JOIN LATERAL jsonb_each(l.factors -> 'crews') AS f
        JOIN crews c ON f.key = c.site_id || ' ' || c.id JOIN sites s ON s.id = c.site_id
        WHERE c.site_id = ANY(${siteIds}::uuid[]))
      SELECT * FROM told
      WHERE NOT ${isAfter} OR (mean, id) < (${isAfter ? Number(mean) : 0}::float8, ${id ?? NO_ID}::uuid)
      ORDER BY mean DESC, id DESC LIMIT ${most + 1}`,
  ])
  const shown = found.slice(0, most)
  const last = found.length > most ? shown.at(-1) : undefined
  return {
    company,
    rows: shown.map(({ id: _id, u, ...row }) => ({ ...row, ...between(row.mean, u) })),
    next: last ? `${last.mean}~${last.id}` : null,
  }
}

const between = (mean: number, standardUncertainty: number) => {
  const { low90, high90 } = normalInterval({ mean, standardUncertainty, min: 0 })
  return { low90, high90 }
}

async function readCompany(): Promise<CrewPage['company']> {
  const [row] = await db.$queryRaw<{ mean: number | null; u: number; jobs: number }[]>`
    SELECT (factors #>> '{company,mean}')::float8 AS mean, (factors #>> '{company,u}')::float8 AS u,
           (factors #>> '{company,jobs}')::int AS jobs
    FROM crew_factors ORDER BY learned_at DESC LIMIT 1`
  if (!row || row.mean === null) return null
  return { mean: row.mean, jobs: row.jobs, ...between(row.mean, row.u) }
}
