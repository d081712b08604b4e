import { v7 as uuidv7 } from 'uuid'
import { expect } from 'vitest'
import type { Role } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { answerClearance, clearPermit } from '@/lib/data/permits/clearance'
import { recordGasTest } from '@/lib/data/permits/gas-tests'
import { issuePermit } from '@/lib/data/permits/issue'
import { preparePermit } from '@/lib/data/permits/prepare'
import { signPermit } from '@/lib/data/permits/sign'
import { localClock, localDay } from '@/lib/format/local-time'
import {
  clearanceAnswerSchema,
  gasTestSchema,
  issuePermitSchema,
  permitStepSchema,
  signPermitSchema,
} from '@/lib/schemas/permit'
import { preparePermitSchema } from '@/lib/schemas/permit-prepare'
import { BUILT_PIN, type BuiltPerson } from '../../seed/builders/people'
import type { Worksite } from '../../seed/builders/permits'
import { databaseNow } from '../../seed/play'
import { surveyOf } from '../../seed/records/clearance'
import { testDatabase } from '../setup/database'

export const PIN = BUILT_PIN

export function viewerOf(person: BuiltPerson, siteId: string, ...roles: Role[]): Viewer {
  return {
    personId: person.id,
    name: person.name,
    grants: roles.map((role) => ({ siteId, role })),
    roles,
    units: 'us',
    clock: '24',
    theme: 'device',
  }
}

export function viewersOf({ team, site }: Worksite) {
  return {
    foreman: viewerOf(team.foreman, site.id, 'foreman'),
    operator: viewerOf(team.operator, site.id, 'operator'),
    fireWatch: viewerOf(team.fireWatch, site.id, 'fire_watch'),
    pai: viewerOf(team.pai, site.id, 'pai'),
  }
}

export async function permitRow(id: string) {
  const { rows } = await testDatabase().owner.query('SELECT * FROM permits WHERE id = $1', [id])
  return rows[0] as Record<string, never> & {
    state: string
    version: number
    survey_no: number
    watch_minutes: number
    frozen: { duties: { watchMin: number } }
  }
}

/** What a form on this permit carries: a new key, the version it was drawn from and what it showed. */
export async function formOn(permitId: string) {
  const { rows } = await testDatabase().owner.query(
    'SELECT version, kerf_permit_hash(id) AS hash FROM permits WHERE id = $1',
    [permitId],
  )
  return {
    key: uuidv7(),
    permitId,
    version: String(rows[0].version),
    contentHash: String(rows[0].hash),
  }
}

export const refusedFor = (...codes: string[]) =>
  expect.objectContaining({
    reasons: expect.arrayContaining(codes.map((code) => expect.objectContaining({ code }))),
  })

/** The clock of the site some minutes from now, as its boxes would hold it. */
export async function siteTime(zone: string, minutesFromNow: number) {
  const at = new Date((await databaseNow(testDatabase().owner)) + minutesFromNow * 60_000)
  return { day: localDay(at, zone), clock: localClock(at, zone) }
}

export async function preparation(worksite: Worksite, over: Record<string, string> = {}) {
  const { site, team, job, outfit } = worksite
  const [from, until] = [await siteTime(site.zone, 0), await siteTime(site.zone, 240)]
  return preparePermitSchema.parse({
    key: uuidv7(),
    jobId: job.id,
    areaId: site.area.id,
    cutListId: job.cutListId,
    outfitId: outfit.id,
    process: 'oxyfuel_cutting',
    coldAnswer: 'neither',
    coldWhy: 'Too thick to saw in place',
    what: 'Cut plates',
    whereWords: 'North side',
    inside: 'Solid plate',
    behind: 'Bare steel',
    plannedDay: from.day,
    plannedFrom: from.clock,
    plannedUntil: until.clock,
    operatorId: team.operator.id,
    fireWatchId: team.fireWatch.id,
    ...over,
  })
}

export async function prepared(worksite: Worksite): Promise<string> {
  const { foreman } = viewersOf(worksite)
  return (await preparePermit(foreman, await preparation(worksite))).id
}

/** Walks the whole survey of an ordinary area; `over` answers one item otherwise. */
export async function walk(
  viewer: Viewer,
  worksite: Worksite,
  permitId: string,
  over: Record<string, Record<string, string>> = {},
) {
  for (const { item, answer } of surveyOf(worksite.site.area.facts)) {
    const typed = over[item] ?? { choice: (answer as { choice: string }).choice }
    await answerClearance(
      viewer,
      clearanceAnswerSchema.parse({ key: uuidv7(), permitId, item, ...typed }),
    )
  }
}

export async function testAir(
  viewer: Viewer,
  worksite: Worksite,
  permitId: string,
  over: Record<string, string> = {},
) {
  const { day } = await siteTime(worksite.site.zone, 0)
  const typed = {
    oxygenPct: '20.9',
    lelPct: '0',
    coPpm: '0',
    h2sPpm: '',
    instrument: 'GM-1',
    bumpTestedOn: day,
    calibratedUntil: day,
  }
  return recordGasTest(
    viewer,
    gasTestSchema.parse({ ...(await formOn(permitId)), ...typed, ...over }),
  )
}

export async function cleared(worksite: Worksite): Promise<string> {
  const { foreman } = viewersOf(worksite)
  const permitId = await prepared(worksite)
  await walk(foreman, worksite, permitId)
  await clearPermit(foreman, permitStepSchema.parse(await formOn(permitId)))
  return permitId
}

export async function signBoth(worksite: Worksite, permitId: string) {
  const { team } = worksite
  const { foreman } = viewersOf(worksite)
  const agree = { act: 'agree', personId: team.operator.id, pin: PIN }
  const acknowledge = { act: 'acknowledge', personId: team.fireWatch.id, pin: PIN }
  await signPermit(foreman, signPermitSchema.parse({ ...(await formOn(permitId)), ...agree }))
  await signPermit(foreman, signPermitSchema.parse({ ...(await formOn(permitId)), ...acknowledge }))
}

export async function issuing(
  worksite: Worksite,
  permitId: string,
  over: Record<string, string> = {},
) {
  const [arrived, until] = [
    await siteTime(worksite.site.zone, -10),
    await siteTime(worksite.site.zone, 240),
  ]
  return issuePermitSchema.parse({
    ...(await formOn(permitId)),
    personId: worksite.team.pai.id,
    pin: PIN,
    arrivedAt: arrived.clock,
    validUntilDay: until.day,
    validUntil: until.clock,
    ...over,
  })
}

/** An open permit, by way of lib/data alone. */
export async function issued(worksite: Worksite): Promise<string> {
  const { foreman } = viewersOf(worksite)
  const permitId = await cleared(worksite)
  await testAir(foreman, worksite, permitId)
  await signBoth(worksite, permitId)
  await issuePermit(foreman, await issuing(worksite, permitId))
  return permitId
}
