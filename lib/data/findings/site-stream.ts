import 'server-only'
import { Client } from 'pg'
import { putRight } from '@/lib/calc/corrected-events'
import type { TrailCylinderRow, TrailEventRow } from '@/lib/calc/trail-rows'
import { env } from '@/lib/env'

/** Rows that lie between the database and here at once. */
const FETCHED = 4_000
/** One fetch of a long read may take so long; a page's statement may not. */
const OPTIONS = '-c timezone=UTC -c statement_timeout=120000 -c cursor_tuple_fraction=1'

export type SiteEventRow = TrailEventRow & Readonly<{ jobId: string | null }>
type ReadRow = SiteEventRow & Readonly<{ correctsId: string | null }>

/**
 * A connection that reads rows as they come: through the client of the pages a site's thousands of events
 * would first be gathered whole, and take several times as long to unpack.
 */
export async function withStream<T>(act: (stream: RowStream) => Promise<T>): Promise<T> {
  const client = new Client({ connectionString: env.KERFWATCH_DATABASE_URL, options: OPTIONS })
  await client.connect()
  try {
    return await act({ rows: (text, values) => streamed(client, text, values) })
  } finally {
    await client.end()
  }
}

export type RowStream = Readonly<{
  rows: (text: string, values: readonly unknown[]) => AsyncGenerator<readonly unknown[][]>
}>

async function* streamed(
  client: Client,
  text: string,
  values: readonly unknown[],
): AsyncGenerator<readonly unknown[][]> {
  await client.query('BEGIN READ ONLY ISOLATION LEVEL REPEATABLE READ')
  try {
    await client.query(`DECLARE look NO SCROLL CURSOR FOR ${text}`, [...values])
    for (let isMore = true; isMore; ) {
      const { rows } = await client.query({ text: `FETCH ${FETCHED} FROM look`, rowMode: 'array' })
      yield rows
      isMore = rows.length === FETCHED
    }
  } finally {
    await client.query('COMMIT')
  }
}

const TOLD = `id, cylinder_id, kind, site_id, outfit_id, job_id, (extract(epoch FROM at) * 1000)::float8 AS at_ms,
  gauge_kpa, weight_kg, temperature_k, contents_kg, contents_u_kg, marked_empty, corrects_id, seq`
const TELLS = "(contents_kg IS NOT NULL OR marked_empty OR kind IN ('received', 'filled'))"

/** The site's own events by its index, and by each cylinder's what the same cylinders did elsewhere: asked in one condition, every site would go through the whole table. */
const EVENTS = `
  WITH here AS MATERIALIZED (SELECT ${TOLD} FROM cylinder_events WHERE site_id = $1::uuid AND at > $2::timestamptz)
  SELECT * FROM here WHERE ${TELLS}
  UNION ALL
  SELECT e.* FROM (SELECT DISTINCT cylinder_id FROM here) AS c CROSS JOIN LATERAL (
    SELECT ${TOLD} FROM cylinder_events o
    WHERE o.cylinder_id = c.cylinder_id AND o.site_id <> $1::uuid AND o.at > $2::timestamptz AND ${TELLS} OFFSET 0) AS e
  ORDER BY cylinder_id, seq`

type Column = string & number & boolean

function toEvent(row: readonly unknown[], same: (text: string | null) => string | null): ReadRow {
  const [id, cylinderId, kind, siteId, outfitId, jobId, atMs] = row as Column[]
  const [gaugeKpa, weightKg, temperatureK, contentsKg, contentsUKg, markedEmpty, correctsId] =
    row.slice(7) as (Column | null)[]
  return {
    id: id ?? '',
    cylinderId: same(cylinderId ?? null) ?? '',
    kind: same(kind ?? null) ?? '',
    siteId: same(siteId ?? null) ?? '',
    outfitId: same(outfitId ?? null),
    jobId: same(jobId ?? null),
    atMs: Math.round(atMs ?? 0),
    gaugeKpa: gaugeKpa ?? null,
    weightKg: weightKg ?? null,
    temperatureK: temperatureK ?? null,
    contentsKg: contentsKg ?? null,
    contentsUKg: contentsUKg ?? null,
    markedEmpty: markedEmpty ?? false,
    correctsId: correctsId ?? null,
  }
}

/** Thousands of rows name the same few jobs and outfits: each name is kept once. */
function sameText(): (text: string | null) => string | null {
  const known = new Map<string, string>()
  return (text) => {
    if (text === null) return null
    const before = known.get(text)
    if (before !== undefined) return before
    known.set(text, text)
    return text
  }
}

/** What the site saw of one cylinder; one that came from another begins with the last that was known of it there. */
function ofSite(own: readonly ReadRow[], siteId: string): SiteEventRow[] {
  const events = putRight(own)
  return events.flatMap((event, i) => {
    if (event.siteId === siteId) return [event]
    if (events[i + 1]?.siteId !== siteId) return []
    return [{ ...event, siteId, kind: 'filled', outfitId: null, jobId: null }]
  })
}

/** Everything that tells contents at a site since a moment, cylinder by cylinder, each oldest first. */
export async function readSiteEvents(
  stream: RowStream,
  { siteId, since }: Readonly<{ siteId: string; since: Date }>,
): Promise<SiteEventRow[]> {
  const found: SiteEventRow[] = []
  const same = sameText()
  let own: ReadRow[] = []
  const close = () => {
    for (const event of ofSite(own, siteId)) found.push(event)
    own = []
  }
  for await (const rows of stream.rows(EVENTS, [siteId, since]))
    for (const row of rows) {
      const event = toEvent(row, same)
      if (own[0] && own[0].cylinderId !== event.cylinderId) close()
      own.push(event)
    }
  close()
  return found
}

const CYLINDERS = `
  SELECT c.id, c.tare_kg, z.id, z.gas_id, z.nominal_kg, z.water_volume_l, z.full_gauge_kpa, z.heel_kg, z.change_at_gauge_kpa
  FROM cylinders c JOIN cylinder_sizes z ON z.id = c.size_id
  WHERE c.id = ANY($1::uuid[])`

/** The cylinders that these events speak of, by gas. */
export async function readSiteCylinders(
  stream: RowStream,
  events: readonly SiteEventRow[],
): Promise<Map<string, TrailCylinderRow[]>> {
  const ids = [...new Set(events.map((event) => event.cylinderId))]
  const byGas = new Map<string, TrailCylinderRow[]>()
  const sizes = new Map<string, TrailCylinderRow['size']>()
  for await (const rows of stream.rows(CYLINDERS, [ids]))
    for (const row of rows) {
      const [id, tareKg, sizeId, gasId, nominalKg, waterVolumeL, fullGaugeKpa, heelKg, changeAt] =
        row as [string, number | null, string, string, number, ...(number | null)[]]
      const size = sizes.get(sizeId) ?? {
        id: sizeId,
        gasId,
        nominalKg,
        waterVolumeL: waterVolumeL ?? null,
        fullGaugeKpa: fullGaugeKpa ?? null,
        heelKg: heelKg ?? 0,
        changeAtGaugeKpa: changeAt ?? null,
      }
      sizes.set(sizeId, size)
      const known = byGas.get(gasId)
      if (known) known.push({ id, size, tareKg })
      else byGas.set(gasId, [{ id, size, tareKg }])
    }
  return byGas
}
