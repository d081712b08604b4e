import { v7 as uuidv7 } from 'uuid'
import { type CutDims, shapeCode } from '@/lib/schemas/cut-dims'
import { type Db, databaseNow, playNow } from '../play'
import { type Doing, writeRow, writeSetUp } from '../records/scribe'
import { addDays, localDay } from '../zones'

export type BuiltCrew = Readonly<{ id: string; name: string }>

export async function buildCrew(
  db: Db,
  wanted: Readonly<{ siteId: string; memberIds?: readonly string[] }>,
): Promise<BuiltCrew> {
  const id = uuidv7()
  const crew = { id, name: `Crew ${id.slice(-10)}` }
  const today = localDay('UTC', await databaseNow(db))
  await playNow(db, (scribe) => {
    writeSetUp(scribe, 0, 'crews', { id, site_id: wanted.siteId, name: crew.name })
    for (const personId of wanted.memberIds ?? []) {
      writeSetUp(scribe, 0, 'crew_members', {
        id: uuidv7(),
        crew_id: id,
        person_id: personId,
        from_date: today,
      })
    }
  })
  return crew
}

export type BuiltCut = Readonly<{ id: string; title: string; dims: CutDims; count: number }>
export type BuiltJob = Readonly<{
  id: string
  number: string
  siteId: string
  cutListId: string
  cuts: readonly BuiltCut[]
}>

const PLATE: CutDims = {
  shape: { kind: 'plate', thicknessM: 0.0254, lengthM: 2 },
  piece: { areaM2: 2 },
}
const BAR: CutDims = {
  shape: { kind: 'flatBar', thicknessM: 0.01905, widthM: 0.1524 },
  piece: { lengthM: 3 },
}

export type JobWanted = Readonly<{
  siteId: string
  foremanId: string
  crewId?: string
  fuel?: 'acetylene' | 'propane'
  cuts?: readonly Readonly<{ title: string; dims: CutDims; count: number }>[]
}>

/** A job with a cut list: plates and bars unless others are asked for. */
export async function buildJobWithCuts(db: Db, wanted: JobWanted): Promise<BuiltJob> {
  const { siteId, foremanId } = wanted
  const id = uuidv7()
  const cutListId = uuidv7()
  const asked = wanted.cuts ?? [
    { title: 'Plate, 1 in', dims: PLATE, count: 6 },
    { title: 'Bar, 3/4 in', dims: BAR, count: 10 },
  ]
  const cuts = asked.map((cut): BuiltCut => ({ id: uuidv7(), ...cut }))
  const job: BuiltJob = { id, number: `T${id.slice(-9)}`, siteId, cutListId, cuts }
  const today = localDay('UTC', await databaseNow(db))
  await playNow(db, (scribe) => {
    const doing: Doing = { atMs: 0, personId: foremanId, role: 'foreman' }
    writeRow(scribe, doing, 'job:write', 'jobs', {
      id,
      site_id: siteId,
      crew_id: wanted.crewId ?? null,
      number: job.number,
      title: 'Columns',
      planned_start: today,
      planned_end: addDays(today, 4),
      state: 'running',
      created_by: foremanId,
    })
    const list = {
      id: cutListId,
      site_id: siteId,
      job_id: id,
      title: 'Cuts',
      fuel: wanted.fuel ?? 'acetylene',
      process: 'hand',
    }
    writeRow(scribe, doing, 'job:write', 'cut_lists', list)
    const rows = cuts.map((cut, i) => ({
      id: cut.id,
      site_id: siteId,
      cut_list_id: cutListId,
      ordinal: i + 1,
      title: cut.title,
      material: 'carbon_steel',
      shape: shapeCode(cut.dims),
      dims: { json: cut.dims },
      count: cut.count,
    }))
    writeRow(scribe, doing, 'job:write', 'cuts', ...rows)
  })
  return job
}
