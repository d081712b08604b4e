import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import type { TestDatabase } from '../../setup/database'
import { asRuntime, type World } from './world'

const HOUR_MS = 3_600_000

export const DUTIES = {
  watchMin: 60,
  roundIntervalMin: 10,
  monitoringMin: 0,
  finalLookMin: 60,
  statementRequired: false,
  gasTestValidMin: 60,
  gasTestNeeded: false,
  oxygenMinPct: 19.5,
  oxygenMaxPct: 23.5,
  lelMaxPct: 10,
  capHours: 24,
  resumeNeedsPai: true,
  posts: ['Near'],
}

export type PermitChoice = Readonly<{
  areaId?: string
  operatorId?: string
  fireWatchId?: string
  outfitId?: string
  process?: string
  validForMs?: number
  duties?: Record<string, unknown>
  impairments?: readonly { id: string; label: string }[]
  /** The posts with their codes, where they carry one. */
  codes?: readonly { id: string; name: string; code: string }[]
}>

export type EventFields = Readonly<{ personId?: string; subjectId?: string; data?: unknown }>

const CLEAN_WALK = {
  ...{ since_last: 'nothing_seen', inside_piece: 'solid', coating: 'bare' },
  ...{ far_side: 'nothing_burns', openings: 'none', floor: 'swept', walls: 'do_not_burn' },
  ...{ burnables: 'none', ducts: 'none', stores: 'none', air: 'open_air' },
  ...{
    cylinders: 'secured_away',
    extinguisher: 'ready',
    bystanders: 'nobody',
    view: 'one_sees_all',
  },
}

/** Going on says what the rules decided of what was found. */
const RULES_SAY: Readonly<Record<string, object>> = {
  resumed: { decision: 'allowed_with_precautions' },
  reopened: { decision: 'allowed_with_precautions' },
}

/** A permit's facts, step by step, as the app's role writes them. */
export function permitSteps(client: pg.ClientBase, world: World, permitId: string) {
  const event = (
    kind: string,
    { personId = world.pai, subjectId, data = RULES_SAY[kind] ?? {} }: EventFields = {},
  ) =>
    client.query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
       VALUES ($1, $2, $3, $4, $5, 'test', $6, $7)`,
      [
        randomUUID(),
        world.siteId,
        permitId,
        kind,
        personId,
        subjectId ?? null,
        JSON.stringify(data),
      ],
    )
  const sign = (act: string, role: string, personId: string) =>
    client.query(
      `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no, content_hash)
       VALUES ($1, $2, $3, $4, $5, $6, 1, kerf_permit_hash($3))`,
      [randomUUID(), world.siteId, permitId, personId, act, role],
    )
  const answer = async (personId = world.pai, item = 'floor', choice = 'swept') => {
    await client.query(
      `INSERT INTO clearance_answers (id, site_id, permit_id, survey_no, item, answer, person_id, role_then)
       SELECT $1, $2, id, survey_no, $5, jsonb_build_object('choice', $6::text), $3, 'test' FROM permits WHERE id = $4`,
      [randomUUID(), world.siteId, personId, permitId, item, choice],
    )
  }
  /** The whole walk of an area that has nothing special. */
  const walk = () =>
    client.query(
      `INSERT INTO clearance_answers (id, site_id, permit_id, survey_no, item, answer, person_id, role_then)
       SELECT gen_random_uuid(), $1, p.id, p.survey_no, w.item, jsonb_build_object('choice', w.choice), $2, 'test'
       FROM permits p, jsonb_each_text($3) AS w(item, choice) WHERE p.id = $4`,
      [world.siteId, world.pai, JSON.stringify(CLEAN_WALK), permitId],
    )
  const round = (personId: string, answerGiven: 'clear' | 'warm' | 'smoke' = 'clear') =>
    client.query(
      `INSERT INTO rounds (id, site_id, permit_id, person_id, role_then, posts, worst) VALUES ($1, $2, $3, $4, 'test', $5, 'clear')`,
      [
        randomUUID(),
        world.siteId,
        permitId,
        personId,
        JSON.stringify([{ postId: 'near', name: 'Near', answer: answerGiven }]),
      ],
    )
  return { event, sign, answer, walk, round }
}

export async function preparePermit(
  client: pg.ClientBase,
  world: World,
  choice: PermitChoice = {},
): Promise<string> {
  const permitId = randomUUID()
  await client.query(
    `INSERT INTO permits (id, site_id, area_id, job_id, what, where_words, cold_answer, planned_from, planned_until, operator_id, fire_watch_id, prepared_by, outfit_id, process)
     VALUES ($1, $2, $3, $4, 'beam', 'bay', '{}', now(), now() + interval '8 hours', $5, $6, $7, $8, $9)`,
    [
      permitId,
      world.siteId,
      choice.areaId ?? world.bay,
      world.jobId,
      choice.operatorId ?? world.operator,
      choice.fireWatchId ?? world.watch,
      world.pai,
      choice.outfitId ?? null,
      choice.process ?? 'oxyfuel_cutting',
    ],
  )
  await permitSteps(client, world, permitId).event('prepared')
  return permitId
}

/** Up to the PAI's signature; what is left is the event `issued`. */
export async function clearAndSign(
  client: pg.ClientBase,
  world: World,
  permitId: string,
  choice: PermitChoice = {},
): Promise<void> {
  const steps = permitSteps(client, world, permitId)
  await steps.walk()
  await steps.event('cleared')
  await steps.sign('agree', 'operator', choice.operatorId ?? world.operator)
  await steps.sign('acknowledge', 'fire_watch', choice.fireWatchId ?? world.watch)
  await steps.sign('issue', 'pai', world.pai)
}

export async function issueData(client: pg.ClientBase, choice: PermitChoice = {}) {
  const { rows } = await client.query<{ now: Date }>('SELECT kerf_now() AS now')
  const now = rows[0]?.now.getTime() ?? 0
  return {
    validUntil: new Date(now + (choice.validForMs ?? 4 * HOUR_MS)).toISOString(),
    watchRequired: true,
    duties: { ...DUTIES, ...choice.duties },
    impairments: choice.impairments ?? [],
    ...(choice.codes ? { posts: choice.codes } : {}),
  }
}

/** An open permit with its operator cutting and its fire watch on. */
export async function openPermit(
  database: TestDatabase,
  world: World,
  choice: PermitChoice = {},
): Promise<string> {
  return asRuntime(database, world.pai, async (client) => {
    const permitId = await preparePermit(client, world, choice)
    await clearAndSign(client, world, permitId, choice)
    await permitSteps(client, world, permitId).event('issued', {
      data: await issueData(client, choice),
    })
    return permitId
  })
}

/** One step in a transaction of its own. */
export function step<T>(
  database: TestDatabase,
  world: World,
  permitId: string,
  work: (steps: ReturnType<typeof permitSteps>, client: pg.PoolClient) => Promise<T>,
): Promise<T> {
  return asRuntime(database, world.pai, (client) =>
    work(permitSteps(client, world, permitId), client),
  )
}

export async function permitState(database: TestDatabase, permitId: string) {
  const { rows } = await database.owner.query<{
    state: string
    torch_out_at: Date | null
    watch_minutes: number | null
  }>('SELECT state, torch_out_at, watch_minutes FROM permits WHERE id = $1', [permitId])
  const found = rows[0]
  if (!found) throw new Error('no such permit')
  return found
}

export type LogFields = Readonly<{
  permitId: string | null
  areaId?: string
  operatorId?: string
  from: Date
  to: Date
  correctsId?: string
}>

export function insertLog(client: pg.ClientBase, world: World, log: LogFields) {
  return client.query<{ id: string; late: boolean }>(
    `INSERT INTO hot_work_logs (id, site_id, job_id, area_id, permit_id, operator_id, from_at, to_at, person_id, role_then, corrects_id)
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $6, 'test', $9) RETURNING id, late`,
    [
      randomUUID(),
      world.siteId,
      world.jobId,
      log.areaId ?? world.bay,
      log.permitId,
      log.operatorId ?? world.operator,
      log.from,
      log.to,
      log.correctsId ?? null,
    ],
  )
}

/** The database's clock, whatever a test moved it to. */
export async function clockNow(database: TestDatabase): Promise<Date> {
  const { rows } = await database.owner.query<{ now: Date }>('SELECT kerf_now() AS now')
  return rows[0]?.now ?? new Date(Number.NaN)
}
