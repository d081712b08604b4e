import type pg from 'pg'
import { v7 as uuidv7 } from 'uuid'
import type { Act, ActName } from './acts'
import type { Stage, Who } from './stage'

type Client = pg.PoolClient
type Seen = Readonly<{ surveyNo: number; contentHash: string }>
type Writes = (client: Client, stage: Stage, seen: Seen, by: Who) => Promise<unknown>

const event =
  (kind: string, data: object = {}): Writes =>
  (client, stage, _, by) =>
    client.query(
      `INSERT INTO permit_events (id, site_id, permit_id, kind, person_id, role_then, subject_id, data)
       VALUES ($1, $2, $3, $4, $5, 'test', $6, $7)`,
      [
        uuidv7(),
        stage.built.site.id,
        stage.permitId,
        kind,
        stage.people[by].id,
        stage.people[by].id,
        JSON.stringify(data),
      ],
    )

const sign =
  (act: string, role: string): Writes =>
  (client, stage, seen, by) =>
    client.query(
      `INSERT INTO signatures (id, site_id, permit_id, person_id, act, role, survey_no, content_hash) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
      [
        uuidv7(),
        stage.built.site.id,
        stage.permitId,
        stage.people[by].id,
        act,
        role,
        seen.surveyNo,
        seen.contentHash,
      ],
    )

const both =
  (...steps: readonly Writes[]): Writes =>
  async (...given) => {
    for (const step of steps) await step(...given)
  }

/** What the rules say of this stage's area. */
const ASKED = { decision: 'allowed_with_precautions' }

/**
 * The same acts as bare rows, written past lib/permit and lib/data as the role that ships. What the
 * triggers say to them must be what lib/permit says.
 */
const ROWS: Partial<Record<ActName, Writes>> = {
  hold: event('held', { reason: 'Lunch' }),
  endWork: event('work_ended'),
  withdraw: event('withdrawn'),
  resume: both(sign('resume', 'pai'), event('resumed', ASKED)),
  reopen: both(sign('go_back', 'pai'), event('reopened', ASKED)),
  monitored: event('monitored'),
  finalLook: event('final_look'),
  statement: event('statement'),
  survey: event('surveyed'),
  close: both(sign('final_pai', 'pai'), event('closed')),
}

/** Whether the database lets the act through; nothing of it stays. Null: there are no bare rows for it. */
export async function tryRaw(stage: Stage, act: Act): Promise<{ codes: string[] } | null> {
  const writes = ROWS[act.name]
  if (!writes || !('by' in act)) return null
  const { permit, content_hash } = (await stage.context()).bundle
  const client = await stage.runtime.connect()
  try {
    // One text without parameters is one way to the server and back; an id needs no quoting.
    await client.query(
      `BEGIN; SELECT set_config('kerf.actor_id', '${stage.people[act.by].id}', true), set_config('kerf.actor_role', 'test', true)`,
    )
    await writes(client, stage, { surveyNo: permit.survey_no, contentHash: content_hash }, act.by)
    return { codes: [] }
  } catch (error) {
    return { codes: codesOf(error) }
  } finally {
    await client.query('ROLLBACK')
    client.release()
  }
}

function codesOf(error: unknown): string[] {
  const { code = '', detail = '' } = error as { code?: string; detail?: string }
  if (!code.startsWith('KW')) throw error
  const { reasons } = JSON.parse(detail) as { reasons: { code: string }[] }
  return reasons.map((reason) => reason.code)
}
