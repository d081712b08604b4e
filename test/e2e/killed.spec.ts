import { randomUUID } from 'node:crypto'
import type pg from 'pg'
import type { Fields } from '../access/row'
import { call } from '../access/send'
import { ACTION_TABLE } from '../access/table'
import { buildScene, type Scene } from '../access/world'
import type { TestApp } from './app'
import { appOfItsOwn as test } from './app-of-its-own'
import { expect } from './fixtures'

interface Victim {
  what: string
  name: 'swapCylinderAction' | 'receiveDeliveryAction' | 'endCountAction' | 'takeImportBatchAction'
  by: 'operator' | 'yard_hand'
  more?: (scene: Scene) => Fields
  /** What the act needs only after its first rows: while another session has it, it stands half done. */
  halfWay: (other: pg.PoolClient, scene: Scene, fields: Fields) => Promise<unknown>
  /** Everything that the act writes, each as what is counted and the values it names; and how many when whole. */
  written: (scene: Scene, fields: Fields) => readonly (readonly [string, readonly unknown[]])[]
  whole: readonly number[]
}

const SERIALS_OF_FILE = `(SELECT data ->> 'serial' FROM fleet_import_rows WHERE import_id = $1)`

/** Another session enters the serial first, and has not said yet whether it stays. */
const claimSerial = (other: pg.PoolClient, serial: string, values: readonly unknown[]) =>
  other.query(
    `INSERT INTO cylinders (id, serial, gas_id, size_id, spec) SELECT gen_random_uuid(), ${serial}, 'oxygen', 'oxygen-244', ''`,
    [...values],
  )

const VICTIMS: readonly Victim[] = [
  {
    what: 'a swap',
    name: 'swapCylinderAction',
    by: 'operator',
    halfWay: (other, { outfit }) =>
      other.query('SELECT 1 FROM outfits WHERE id = $1 FOR NO KEY UPDATE', [outfit.id]),
    written: ({ spare, outfit }) => [
      ['swaps WHERE on_cylinder_id = $1', [spare.id]],
      [
        `cylinder_events WHERE swap_id IS NOT NULL AND (cylinder_id = $1 AND kind = 'put_on' OR cylinder_id = $2 AND kind = 'taken_off')`,
        [spare.id, outfit.oxygen.id],
      ],
      ['cylinders WHERE outfit_id = $1 AND id = $2', [outfit.id, spare.id]],
    ],
    whole: [1, 2, 1],
  },
  {
    what: 'a delivery',
    name: 'receiveDeliveryAction',
    by: 'yard_hand',
    more: ({ spare }) => ({ note: `In the place of ${spare.id}` }),
    halfWay: (other, _scene, { serial }) => claimSerial(other, '$1', [serial?.[0]]),
    written: (_scene, { note, serial }) => [
      ['deliveries WHERE note = $1', [note]],
      ['cylinders WHERE serial = ANY ($1)', [serial]],
      [
        `cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id WHERE e.kind = 'received' AND c.serial = ANY ($1)`,
        [serial],
      ],
    ],
    whole: [1, 1, 1],
  },
  {
    what: 'the end of a stock count',
    name: 'endCountAction',
    by: 'yard_hand',
    more: ({ spare }) => ({ confirmed: spare.serial }),
    halfWay: (other, { spare }) =>
      other.query('SELECT 1 FROM cylinders WHERE id = $1 FOR NO KEY UPDATE', [spare.id]),
    written: ({ spare }, { countId }) => [
      ['stock_count_ends WHERE count_id = $1', [countId]],
      [`cylinder_events WHERE kind = 'lost' AND cylinder_id = $1`, [spare.id]],
    ],
    whole: [1, 1],
  },
  {
    what: 'a batch of a starting fleet',
    name: 'takeImportBatchAction',
    by: 'yard_hand',
    halfWay: (other, _scene, { importId }) => claimSerial(other, SERIALS_OF_FILE, [importId]),
    written: (_scene, { importId }) => [
      ['fleet_import_batches WHERE import_id = $1', [importId]],
      [`cylinders WHERE serial IN ${SERIALS_OF_FILE}`, [importId]],
      [
        `cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id WHERE c.serial IN ${SERIALS_OF_FILE}`,
        [importId],
      ],
    ],
    whole: [1, 1, 1],
  },
]

/** All is written by then; the chain that its entries go on is what the end of the transaction waits for. */
const atTheEnd = (other: pg.PoolClient, scene: Scene) =>
  other.query(`SELECT pg_advisory_xact_lock(hashtextextended('kerf chain ' || $1, 0))`, [
    scene.site.id,
  ])

const sessions = (condition: string) =>
  `SELECT count(*)::int AS n FROM pg_stat_activity
   WHERE datname = current_database() AND usename = 'kerfwatch_runtime' AND ${condition}`
const WAITING = sessions(`wait_event_type = 'Lock'`)
const LEFT = sessions('true')

const sessionsAre = (app: TestApp, sql: string, count: 'none' | 'some') =>
  expect
    .poll(async () => ((await app.owner.query<{ n: number }>(sql)).rows[0]?.n ?? 0) > 0, {
      intervals: [20],
      timeout: 20_000,
    })
    .toBe(count === 'some')

// A spec before this one may have moved the clock, and a process starts by the true one alone.
test.beforeAll(({ app }) => app.setClock(0))

for (const victim of VICTIMS) {
  for (const moment of ['half way', 'at its end'] as const) {
    test(`${victim.what} whose server dies ${moment} is whole or not there; sent again it is one`, async ({
      app,
    }) => {
      test.setTimeout(180_000)
      const row = ACTION_TABLE[victim.name]
      if (!row) throw new Error(`${victim.name} is not in the table`)
      const scene = await buildScene(app, row.stage ?? null)
      const person = scene.people[victim.by]
      const fields: Fields = {
        ...(await row.input(scene, person)),
        ...victim.more?.(scene),
        key: randomUUID(),
      }
      const { email } = person
      const send = () => call(app, { email, name: victim.name, row, scene, fields })
      const written = async () => {
        const counts: number[] = []
        for (const [what, values] of victim.written(scene, fields))
          counts.push(Number(await scene.read(`SELECT count(*) FROM ${what}`, values)))
        return counts
      }
      const nothing = victim.whole.map(() => 0)
      expect(await written()).toEqual(nothing)

      const other = await app.owner.connect()
      await other.query('BEGIN')
      await (moment === 'half way' ? victim.halfWay(other, scene, fields) : atTheEnd(other, scene))
      const sent = send().then(
        () => 'answered',
        () => 'cut off',
      )
      await sessionsAre(app, WAITING, 'some')
      await app.kill()
      expect(await sent).toBe('cut off')
      await other.query('ROLLBACK')
      other.release()
      await sessionsAre(app, LEFT, 'none')
      // Half way, nothing stays. At the end the database may have been told to keep it already.
      const kept = await written()
      expect(moment === 'half way' ? [nothing] : [nothing, victim.whole]).toContainEqual(kept)

      await app.start()
      expect(await send()).toEqual({ isDone: true, code: '' })
      expect(await written()).toEqual(victim.whole)
      expect(await send()).toEqual({ isDone: true, code: '' })
      expect(await written()).toEqual(victim.whole)
    })
  }
}
